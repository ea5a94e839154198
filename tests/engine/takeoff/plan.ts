import type { FaceId, Leg, LegKind, ResolvedRun } from '../../../src/engine/fabric/types.ts';
import type { Id, PlanDocument, Point, PointKind, Run, Wall } from '../../../src/engine/model/document.ts';
import type { KnownLength, Tracing } from '../../../src/engine/model/tracing.ts';
import { newDocument, tableFrom } from '../../../src/engine/model/defaults.ts';
import type { SpacePoint } from '../../../src/engine/model/units.ts';

export function point(id: Id, kind: PointKind, over: Partial<Point> = {}): Point {
  return {
    id,
    label: id.toUpperCase(),
    kind,
    name: '',
    place: { on: 'ceiling', storey: 's1', x: 0, y: 0 },
    gangs: 1,
    box: null,
    visible: true,
    circuit: null,
    load: null,
    loadKind: null,
    controls: [],
    plate: null,
    ...over,
  };
}

export function run(id: Id, from: Id | null, to: Id | null, over: Partial<Run> = {}): Run {
  return {
    id,
    label: id.toUpperCase(),
    circuit: null,
    cable: 'te2-5',
    from,
    to,
    corners: [],
    fixing: 'clipped',
    depth: null,
    protection: 'none',
    tailFrom: null,
    tailTo: null,
    origin: 'drawn',
    locked: false,
    progress: { pulled: null, labelled: null, photographed: null, tested: null, covered: null },
    asLaid: { state: 'not-recorded', note: '' },
    notes: '',
    ...over,
  };
}

export function wall(id: Id, from: Id, to: Id, buildUp: Id): Wall {
  return {
    id,
    storey: 's1',
    from,
    to,
    buildUp,
    flipped: false,
    top: { kind: 'ceiling' },
    toldFromBehind: { left: null, right: null },
  };
}

export function tracing(known: readonly KnownLength[], mmPerPixel: number): Tracing {
  return {
    id: 'u1',
    name: 'plan.png',
    lies: { on: 'storey', storey: 's1', x: 0, y: 0, rotation: 0 },
    source: {
      kind: 'picture',
      mediaType: 'image/png',
      asset: '0'.repeat(64),
      width: 2000,
      height: 1500,
      straighten: null,
    },
    scale: { mmPerUnit: mmPerPixel, known, stated: null },
    date: null,
    revision: '',
    opacity: 0.5,
    locked: true,
    visible: true,
  };
}

/**
 * Four walls on a 6 x 4 m centre line, one of each construction: w1 (top of the sheet) block and plaster,
 * w2 (right) timber stud, w3 (bottom) metal stud, w4 (left) timber with battened void,
 * flipped so that the void is on the room side.
 */
export function plan(points: readonly Point[], runs: readonly Run[]): PlanDocument {
  const doc = newDocument('Take-off');
  const node = (id: Id, x: number, y: number) => ({ id, storey: 's1', x, y });
  return {
    ...doc,
    nodes: tableFrom([node('n1', 0, 0), node('n2', 6000, 0), node('n3', 6000, 4000), node('n4', 0, 4000)]),
    walls: tableFrom([
      wall('w1', 'n1', 'n2', 'block-plaster'),
      wall('w2', 'n2', 'n3', 'timber-stud'),
      wall('w3', 'n3', 'n4', 'metal-stud'),
      { ...wall('w4', 'n4', 'n1', 'timber-void'), flipped: true },
    ]),
    points: tableFrom(points),
    runs: tableFrom(runs),
  };
}

const FACES: Readonly<Record<Id, FaceId>> = {
  w1: 'w1.right.0',
  w2: 'w2.right.0',
  w3: 'w3.right.0',
  w4: 'w4.right.0',
};

/** A leg between two spots in space, on the room side of the named wall for face legs. */
export function leg(kind: LegKind, a: SpacePoint, b: SpacePoint, onWall: Id | null = null, stretch = 0): Leg {
  const face = kind === 'face' && onWall !== null ? (FACES[onWall] ?? null) : null;
  return {
    kind,
    stretch,
    storey: 's1',
    a,
    b,
    length: Math.hypot(b.x - a.x, b.y - a.y, b.z - a.z),
    face,
    fa: null,
    fb: null,
    wall: onWall,
  };
}

export const at = (x: number, y: number, z: number): SpacePoint => ({ x, y, z });

export function resolved(id: Id, legs: readonly Leg[], missing: string | null = null): ResolvedRun {
  return { run: id, legs, missing };
}

/** The same run with each leg of some length cut in two at that fraction. */
export function split({ run: id, legs, missing }: ResolvedRun, t: number): ResolvedRun {
  return {
    run: id,
    missing,
    legs: legs.flatMap((l) => {
      if (l.length === 0) return [l];
      const m = at(l.a.x + t * (l.b.x - l.a.x), l.a.y + t * (l.b.y - l.a.y), l.a.z + t * (l.b.z - l.a.z));
      return [
        { ...l, b: m, length: l.length * t },
        { ...l, a: m, length: l.length * (1 - t) },
      ];
    }),
  };
}

import type { Face, FaceBuild, FaceEndKind, Leg, Opposite } from '../../../src/engine/fabric/types.ts';
import { newDocument, tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Circuit, PlanDocument, Point, Run } from '../../../src/engine/model/document.ts';
import type { FacePoint } from '../../../src/engine/model/units.ts';

/** A face by hand: level top, one piece of the wall's right side unless told otherwise. */
export function aFace(
  id: string,
  over: Partial<Omit<Face, 'left' | 'right'>> & {
    left?: FaceEndKind;
    right?: FaceEndKind;
    build?: Partial<FaceBuild>;
  } = {},
): Face {
  const length = over.length ?? 3000;
  const { left = 'internal', right = 'internal', build, ...rest } = over;
  const side = id.includes('.left') ? ('left' as const) : ('right' as const);
  const wall = id.split('.')[0] as string;
  const rises = side === 'right';
  return {
    id,
    storey: 's1',
    room: 'room',
    a: { x: 0, y: 0 },
    b: { x: length, y: 0 },
    length,
    pieces: [{ wall, side, u0: 0, u1: length, alongAtU0: rises ? 0 : length, alongAtU1: rises ? length : 0 }],
    builds: [
      {
        wall,
        buildUp: 'block-dabs',
        thickness: 145,
        metal: false,
        masonry: true,
        coverNear: 12.5,
        coverFar: 122.5,
        tellsBehind: true,
        ...build,
      },
    ],
    left: { kind: left, angle: Math.PI / 2, next: null, top: 2400, onward: null },
    right: { kind: right, angle: Math.PI / 2, next: null, top: 2400, onward: null },
    top: [
      { u: 0, z: 2400 },
      { u: length, z: 2400 },
    ],
    sloped: false,
    openings: [],
    opposite: [],
    ...rest,
  };
}

/** The face behind, seen both ways: this face's 0..length lies behind the other's length..0. */
export const behind = (face: string, length: number): Opposite => ({
  face,
  u0: 0,
  u1: length,
  otherAtU0: length,
  otherAtU1: 0,
});

export function aPoint(
  id: string,
  over: Partial<Point> & { along?: number; z?: number; wall?: string; side?: 'left' | 'right' } = {},
): Point {
  const { along = 1000, z = 450, wall = 'w1', side = 'right', ...rest } = over;
  return {
    id,
    label: id.toUpperCase(),
    kind: 'socket',
    name: '',
    place: { on: 'face', wall, side, along, z },
    gangs: 1,
    box: { box: 'metal-1g-35', fixedFirst: true },
    visible: true,
    circuit: 'c1',
    load: null,
    loadKind: null,
    controls: [],
    plate: null,
    ...rest,
  };
}

export function aRun(id: string, over: Partial<Run> = {}): Run {
  return {
    id,
    label: id.toUpperCase(),
    circuit: 'c1',
    cable: 'te2-5',
    from: null,
    to: null,
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

export function aCircuit(id: string, over: Partial<Circuit> = {}): Circuit {
  return {
    id,
    label: id.toUpperCase(),
    name: 'Sockets',
    topology: 'radial',
    device: { type: 'B', rating: 32, rcd: 30 },
    board: null,
    cable: 'te2-5',
    cable3: null,
    way: null,
    first: [],
    last: [],
    designCurrent: null,
    ...over,
  };
}

/** A plan with a wall w1 (and w2) on record, for hand-made faces to stand on. */
export function aPlan(points: Point[], over: Partial<PlanDocument> = {}): PlanDocument {
  const wall = (id: string) =>
    ({
      id,
      storey: 's1',
      from: 'n1',
      to: 'n2',
      buildUp: 'block-dabs',
      flipped: false,
      top: { kind: 'ceiling' },
      toldFromBehind: { left: null, right: null },
    }) as const;
  return {
    ...newDocument('Test'),
    nodes: tableFrom([
      { id: 'n1', storey: 's1', x: 0, y: 0 },
      { id: 'n2', storey: 's1', x: 3000, y: 0 },
    ]),
    walls: tableFrom([wall('w1'), wall('w2')]),
    points: tableFrom(points),
    circuits: tableFrom([aCircuit('c1'), aCircuit('c2')]),
    ...over,
  };
}

export function aLeg(face: string, fa: FacePoint, fb: FacePoint, over: Partial<Leg> = {}): Leg {
  return {
    kind: 'face',
    stretch: 0,
    storey: 's1',
    a: { x: fa.u, y: 0, z: fa.z },
    b: { x: fb.u, y: 0, z: fb.z },
    length: Math.hypot(fb.u - fa.u, fb.z - fa.z),
    face,
    fa,
    fb,
    wall: 'w1',
    ...over,
  };
}

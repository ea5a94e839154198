import { createStore } from '../../../src/document/store.ts';
import { addCircuit } from '../../../src/document/commands/circuits.ts';
import { addPoint, type NewPoint } from '../../../src/document/commands/points.ts';
import type { Command, DocumentStore } from '../../../src/document/types.ts';
import type { Derived } from '../../../src/engine/derive/types.ts';
import { buildFabric } from '../../../src/engine/fabric/build.ts';
import { resolveRun } from '../../../src/engine/fabric/resolve.ts';
import type { Face } from '../../../src/engine/fabric/types.ts';
import type { Id, PlanDocument } from '../../../src/engine/model/document.ts';
import type { PlanPoint } from '../../../src/engine/model/units.ts';
import { checkRun } from '../../../src/engine/zones/checkRun.ts';
import { faceZones } from '../../../src/engine/zones/faceZones.ts';
import type { RunCheck } from '../../../src/engine/zones/types.ts';
import { startSession } from '../../../src/tools/session.ts';
import type { SessionState, Spot, Tool, ToolContext, ToolEvent, ToolStep } from '../../../src/tools/types.ts';
import { planOf, type PlanParts } from '../../engine/fabric/plans.ts';

/** Everything of a document that tools look at, by the real engine. */
export function deriveFor(doc: PlanDocument): Derived {
  const fabrics = new Map(doc.storeys.order.map((id) => [id, buildFabric(doc, id)]));
  const zones = new Map(
    [...fabrics.values()].flatMap((fabric) =>
      [...fabric.faces.values()].map((face) => [face.id, faceZones(doc, fabric, face)] as const),
    ),
  );
  const runs = new Map<Id, RunCheck>();
  for (const run of Object.values(doc.runs.byId)) {
    runs.set(run.id, checkRun({ doc, fabrics, zones }, run, resolveRun(doc, fabrics, run)));
  }
  return {
    fabrics,
    zones,
    runs,
    findings: [],
    takeOff: { scale: { state: 'typed' }, runs: new Map(), cables: [], sundries: [] },
    drums: [],
  };
}

/**
 * Two rooms side by side on 88 mm stud: left room 4 m wide, right room 3 m, both 3 m deep (centre lines). The left
 * room's inner faces run from 44 mm to 3956 mm in x; its top wall is seen from below.
 */
export const TWO_ROOMS: PlanParts = {
  nodes: { a: [0, 0], b: [4000, 0], c: [7000, 0], d: [7000, 3000], e: [4000, 3000], f: [0, 3000] },
  walls: {
    top: ['a', 'b'],
    topR: ['b', 'c'],
    right: ['c', 'd'],
    bottomR: ['d', 'e'],
    bottom: ['e', 'f'],
    left: ['f', 'a'],
    mid: ['b', 'e'],
  },
};

const told = { toldFromBehind: { left: true, right: true } };
/**
 * The same with a wider ring of walls round them, and every wall said to tell its points from behind: a cable in a thin wall
 * is then judged by the strips of both sides. Seen from outdoors it would never be in a zone.
 */
export const ENCLOSED: PlanParts = {
  nodes: { ...TWO_ROOMS.nodes, n1: [-2000, -2000], n2: [9000, -2000], n3: [9000, 5000], n4: [-2000, 5000] },
  walls: {
    ...Object.fromEntries(
      Object.entries(TWO_ROOMS.walls).map(([id, [from, to]]) => [id, [from, to, undefined, told] as const]),
    ),
    ring1: ['n1', 'n2'],
    ring2: ['n2', 'n3'],
    ring3: ['n3', 'n4'],
    ring4: ['n4', 'n1'],
  },
};
/** A store with a tool in hand, driven by events as the views send them. */
export class World<S> {
  readonly store: DocumentStore;
  session: SessionState;
  step!: ToolStep<S>;
  /** Screen pixels per mm. */
  scale = 0.1;
  /** What stands in the entry box, unentered. */
  typed: string | null = null;
  readonly notices: string[] = [];
  #tool: Tool<S>;

  constructor(tool: Tool<S>, parts: PlanParts = TWO_ROOMS) {
    this.store = createStore(planOf(parts));
    this.session = { ...startSession(this.doc), tool: tool.id };
    this.#tool = tool;
    this.#take(tool.start(this.ctx()));
  }

  get doc(): PlanDocument {
    return this.store.getState().doc;
  }

  ctx(): ToolContext {
    return {
      doc: this.doc,
      derived: deriveFor(this.doc),
      session: this.session,
      scale: this.scale,
      tolerance: 8,
      typed: this.typed,
    };
  }

  do(command: Command): Id {
    const done = this.store.dispatch(command);
    if (!done.ok) throw new Error(done.reason);
    return done.made[0] ?? '';
  }

  /** A point on the face whose wall and side these are, `along` its centre line. */
  point(
    kind: NewPoint['kind'],
    wall: Id,
    side: 'left' | 'right',
    along: number,
    z: number,
    more: Partial<NewPoint> = {},
  ): Id {
    return this.do(addPoint({ kind, place: { on: 'face', wall, side, along, z }, ...more }));
  }

  ceilingPoint(kind: NewPoint['kind'], x: number, y: number): Id {
    return this.do(addPoint({ kind, place: { on: 'ceiling', storey: 's1', x, y } }));
  }

  circuit(fields: Parameters<typeof addCircuit>[0] = { topology: 'radial' }): Id {
    return this.do(addCircuit(fields));
  }

  face(wall: Id, side: 'left' | 'right'): Face {
    for (const fabric of deriveFor(this.doc).fabrics.values()) {
      for (const face of fabric.faces.values()) {
        if (face.pieces.some((p) => p.wall === wall && p.side === side)) return face;
      }
    }
    throw new Error(`no face on ${wall} ${side}`);
  }

  send(event: ToolEvent): void {
    this.#take(this.#tool.step(this.step.state, event, this.ctx()));
  }

  #take(step: ToolStep<S>): void {
    this.step = step;
    if (step.notice !== undefined) this.notices.push(step.notice);
    const done = step.command ? this.store.dispatch(step.command) : null;
    if (done && !done.ok) this.notices.push(done.reason);
    else if (step.select) this.session = { ...this.session, selection: step.select };
    if (step.session) this.session = { ...this.session, ...step.session };
  }

  move(spot: Spot, alt = false): void {
    this.send(this.#pointer('move', spot, alt));
  }

  click(spot: Spot, alt = false): void {
    for (const type of ['move', 'down', 'up'] as const) this.send(this.#pointer(type, spot, alt));
  }

  drag(from: Spot, to: Spot, alt = false): void {
    this.send(this.#pointer('move', from, alt));
    this.send(this.#pointer('down', from, alt));
    this.send(this.#pointer('move', between(from, to), alt));
    this.send(this.#pointer('move', to, alt));
    this.send(this.#pointer('up', to, alt));
  }

  key(key: string): void {
    this.send({ type: 'key', key, shift: false, ctrl: false });
  }

  pointer(type: 'down' | 'move' | 'up' | 'double', spot: Spot): void {
    this.send(this.#pointer(type, spot, false));
  }

  #pointer(type: 'down' | 'move' | 'up' | 'double', spot: Spot, alt: boolean): ToolEvent {
    const [x, y] = spot.surface === 'plan' ? [spot.at.x, spot.at.y] : [spot.at.u, -spot.at.z];
    const screen = { px: x * this.scale, py: y * this.scale };
    return { type, spot, screen, shift: false, alt, ctrl: false, touch: false };
  }
}

function between(a: Spot, b: Spot): Spot {
  if (a.surface === 'plan' && b.surface === 'plan') {
    return { surface: 'plan', at: { x: (a.at.x + b.at.x) / 2, y: (a.at.y + b.at.y) / 2 } };
  }
  return b;
}

export const onPlan = (x: number, y: number): Spot => ({ surface: 'plan', at: { x, y } satisfies PlanPoint });
export const onWall = (face: Face, u: number, z: number): Spot => ({
  surface: 'face',
  face: face.id,
  at: { u, z },
});

/** Places in short, rounded to 0.1 mm: "top.right 1000 450", "ceiling 1000 44". */
export function short(doc: PlanDocument, run: Id): string[] {
  const n = (v: number): string => String(Math.round(v * 10) / 10 + 0);
  return (doc.runs.byId[run]?.corners ?? []).map((p) =>
    p.on === 'face' ? `${p.wall}.${p.side} ${n(p.along)} ${n(p.z)}` : `${p.on} ${n(p.x)} ${n(p.y)}`,
  );
}

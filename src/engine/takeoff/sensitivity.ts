import type { Id, Place, PlanDocument, Point, Run, Table } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import type { DrumPlan, TakeOff } from './types.ts';

/** What the drums of a plan come to; the callback that works it out anew for a changed plan. */
export interface Sums {
  readonly takeOff: TakeOff;
  readonly drums: readonly DrumPlan[];
}
export type Rederive = (doc: PlanDocument) => Sums;

/** What one change of the plan would do to one cable. */
export interface DrumChange {
  readonly change: string;
  readonly cable: Id;
  readonly orderMm: Mm;
  /** Metres and money more to buy; money is null unless both plans have a cost. */
  readonly boughtM: number;
  readonly cost: number | null;
  /** Drums before and after, as `2 × 50 m + 1 × 25 m`. */
  readonly before: string;
  readonly after: string;
  readonly sentence: string;
}

/** How far along the wall from its neighbour the socket one more would stand, mm: our own assumption. */
export const NEXT_SOCKET: Mm = 1000;

/** The plan with every ceiling that much higher. Walls up to the ceiling follow; typed heights stay. */
export function withCeilings(doc: PlanDocument, higher: Mm): PlanDocument {
  const byId = Object.fromEntries(
    rows(doc.storeys).map((s) => [s.id, { ...s, ceilingHeight: s.ceilingHeight + higher }]),
  );
  return { ...doc, storeys: { ...doc.storeys, byId } };
}

function added<T extends { readonly id: Id }>(table: Table<T>, record: T): Table<T> {
  return { order: [...table.order, record.id], byId: { ...table.byId, [record.id]: record } };
}

/** A place moved along a wall's direction, mm. */
function shifted(doc: PlanDocument, place: Place, wall: Id, by: Mm): Place {
  if (place.on === 'face') return place.wall === wall ? { ...place, along: place.along + by } : place;
  const record = find(doc, 'walls', wall);
  const from = find(doc, 'nodes', record?.from ?? null);
  const to = find(doc, 'nodes', record?.to ?? null);
  if (from === undefined || to === undefined) return place;
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  return {
    ...place,
    x: place.x + ((to.x - from.x) / length) * by,
    y: place.y + ((to.y - from.y) / length) * by,
  };
}

/**
 * The plan with one more socket on a circuit: `NEXT_SOCKET` along the wall from its last socket with a run (or as far
 * as the wall goes), joined to it by a run that leaves and arrives the way that socket's own run does. Null when the
 * circuit has no such socket. Geometry only: whether a zone or an opening is there is not asked.
 */
export function withOneMoreSocket(doc: PlanDocument, circuit: Id): PlanDocument | null {
  const sockets = rows(doc.points).filter((p) => p.circuit === circuit && p.kind === 'socket');
  for (const socket of sockets.toReversed()) {
    const run = rows(doc.runs).find((r) => r.to === socket.id || r.from === socket.id);
    const { place } = socket;
    if (run === undefined || place.on !== 'face') continue;
    const wall = find(doc, 'walls', place.wall);
    const from = find(doc, 'nodes', wall?.from ?? null);
    const to = find(doc, 'nodes', wall?.to ?? null);
    if (wall === undefined || from === undefined || to === undefined) continue;
    const length = Math.hypot(to.x - from.x, to.y - from.y);
    const ahead = length - place.along;
    const by =
      ahead >= NEXT_SOCKET || ahead >= place.along
        ? Math.min(NEXT_SOCKET, ahead / 2)
        : -Math.min(NEXT_SOCKET, place.along / 2);
    const id = fresh(doc.points);
    const point: Point = {
      ...socket,
      id,
      label: `${socket.label}+`,
      place: { ...place, along: place.along + by },
      loadKind: null,
      controls: [],
    };
    return {
      ...doc,
      points: added(doc.points, point),
      runs: added(doc.runs, linkRun(doc, run, socket, id, wall.id, by)),
    };
  }
  return null;
}

/** An id the table does not have. */
function fresh<T>(table: Table<T>): Id {
  let n = table.order.length + 1;
  while (table.byId[`more-${n}`] !== undefined) n++;
  return `more-${n}`;
}

/** The run from the socket to its new neighbour: by the same void when its own run comes by one, else straight along. */
function linkRun(doc: PlanDocument, run: Run, socket: Point, to: Id, wall: Id, by: Mm): Run {
  const arrives = run.to === socket.id;
  const nearest = arrives ? run.corners.at(-1) : run.corners[0];
  const byVoid = nearest !== undefined && nearest.on !== 'face';
  const tail = arrives ? run.tailTo : run.tailFrom;
  return {
    ...run,
    id: fresh(doc.runs),
    label: `${run.label}+`,
    from: socket.id,
    to,
    corners: byVoid ? [nearest, shifted(doc, nearest, wall, by)] : [],
    tailFrom: tail,
    tailTo: tail,
  };
}

const drumsText = (plan: DrumPlan | undefined): string => {
  const counts = new Map<number, number>();
  for (const d of plan?.drums ?? []) if (!d.owned) counts.set(d.length, (counts.get(d.length) ?? 0) + 1);
  const parts = [...counts].sort(([a], [b]) => b - a).map(([length, n]) => `${n} × ${length} m`);
  return parts.length === 0 ? 'none' : parts.join(' + ');
};

/** Per cable, what a changed plan would do; cables it does not touch are left out. */
function changes(change: string, doc: PlanDocument, now: Sums, then: Sums): DrumChange[] {
  return rows(doc.cables).flatMap((cable) => {
    const mm = (s: Sums) => s.takeOff.cables.find((c) => c.cable === cable.id)?.orderMm ?? 0;
    const plan = (s: Sums) => s.drums.find((d) => d.cable === cable.id);
    const orderMm = mm(then) - mm(now);
    if (Math.abs(orderMm) < 0.5) return [];
    const [was, will] = [plan(now), plan(then)];
    const boughtM = (will?.bought ?? 0) - (was?.bought ?? 0);
    const priced = was !== undefined && will !== undefined && was.cost !== null && will.cost !== null;
    const cost = priced && was.cost !== null && will.cost !== null ? will.cost - was.cost : null;
    const before = drumsText(was);
    const after = drumsText(will);
    const more = `${orderMm < 0 ? '−' : '+'}${(Math.abs(orderMm) / 1000).toFixed(1)} m of ${cable.name}`;
    const late =
      (will?.tooLong.length ?? 0) > (was?.tooLong.length ?? 0)
        ? ', and a run becomes longer than any drum'
        : '';
    const sentence = `${change}: ${more}; ${before === after ? `still ${after}` : `${before} becomes ${after}`}${late}.`;
    return [{ change, cable: cable.id, orderMm, boughtM, cost, before, after, sentence }];
  });
}

/**
 * What the next 100 mm of ceiling height, and one more socket on each circuit with sockets, would do to metres and
 * drums. `rederive` works out a changed plan; it is called once for the plan and once a change.
 */
export function drumSensitivity(doc: PlanDocument, rederive: Rederive, higher: Mm = 100): DrumChange[] {
  const now = rederive(doc);
  if (now.takeOff.scale.state === 'refused') return [];
  const found = changes(`Ceilings ${higher} mm higher`, doc, now, rederive(withCeilings(doc, higher)));
  for (const circuit of rows(doc.circuits)) {
    const more = withOneMoreSocket(doc, circuit.id);
    if (more !== null) {
      found.push(
        ...changes(`One more socket on ${circuit.label} ${circuit.name}`.trim(), doc, now, rederive(more)),
      );
    }
  }
  return found;
}

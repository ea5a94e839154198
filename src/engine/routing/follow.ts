import type { Touched } from '../derive/types.ts';
import type { Id, Place, PlanDocument, Run } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import type { ZoneContext } from '../zones/surfaces.ts';
import { onlyWay } from './circuitPlan.ts';
import { keptApart, lengthOf } from './lanes.ts';
import { plannerFor, suggestRun, type Planner } from './planner.ts';
import { isReplaceable } from './trial.ts';
import { ALL_WAYS } from './types.ts';

/** A run that becomes less than this longer or shorter is not worth telling, mm. */
const NOTICED: Mm = 5;

/** New corners for suggested runs after something they depend on moved. */
export interface Followed {
  readonly runs: readonly { readonly run: Id; readonly corners: readonly Place[] }[];
  /** Runs that go another way or have become longer or shorter. */
  readonly affected: readonly Id[];
  /** Metres after, less metres before. */
  readonly change: Mm;
  readonly blocked: readonly string[];
}

/**
 * Suggested runs a change may have left behind: those that end at a touched point or have a corner on a touched wall, or
 * on a wall whose strips moved with a point. A thing or a storey that changed may stand in the way of any.
 */
export function runsToFollow(before: PlanDocument, doc: PlanDocument, touched: Touched): Id[] {
  const walls = new Set(touched.walls ?? []);
  for (const id of touched.points ?? []) {
    for (const place of [before.points.byId[id]?.place, doc.points.byId[id]?.place])
      if (place?.on === 'face') walls.add(place.wall);
  }
  for (const node of touched.nodes ?? []) {
    for (const wall of rows(doc.walls)) if (wall.from === node || wall.to === node) walls.add(wall.id);
  }
  for (const opening of touched.openings ?? []) {
    for (const wall of [before.openings.byId[opening]?.wall, doc.openings.byId[opening]?.wall])
      if (wall !== undefined) walls.add(wall);
  }
  const any =
    (touched.things?.size ?? 0) > 0 || (touched.storeys?.size ?? 0) > 0 || touched.buildUps !== undefined;
  const onWall = (place: Place | undefined): boolean => place?.on === 'face' && walls.has(place.wall);
  const ends = (run: Run): (Id | null)[] => [run.from, run.to];
  return rows(doc.runs)
    .filter((run) => isReplaceable(run))
    .filter(
      (run) =>
        any ||
        ends(run).some((id) => id !== null && touched.points?.has(id) === true) ||
        ends(run).some((id) => onWall(find(doc, 'points', id)?.place)) ||
        run.corners.some(onWall),
    )
    .map((run) => run.id);
}

/**
 * Finds each run its best way again, by the way its circuit keeps to. Runs whose way is unchanged are left out. `was`:
 * metres of the runs before whatever changed, mm; a run it does not name adds nothing to `change`.
 */
export function followRuns(ctx: ZoneContext, runs: readonly Id[], was: Readonly<Record<Id, Mm>>): Followed {
  const planners = new Map<Id | null, Planner>();
  const blocked: string[] = [];
  const routed: Run[] = [];
  for (const id of runs) {
    const run = find(ctx.doc, 'runs', id);
    if (run === undefined || run.from === null || run.to === null) continue;
    const circuit = find(ctx.doc, 'circuits', run.circuit) ?? null;
    let planner = planners.get(run.circuit);
    if (planner === undefined) {
      const way = circuit?.way ?? null;
      planner = plannerFor(ctx, circuit, way === null ? ALL_WAYS : onlyWay(way));
      planners.set(run.circuit, planner);
    }
    const route = suggestRun(planner, run.from, run.to);
    if (route.ok) routed.push({ ...run, corners: route.corners });
    else blocked.push(`${run.label}: ${route.reason}`);
  }
  const again = new Set(routed.map((run) => run.id));
  const apart = keptApart(
    ctx,
    routed,
    rows(ctx.doc.runs).filter((run) => !again.has(run.id)),
  );
  const found: { run: Id; corners: readonly Place[] }[] = [];
  const affected: Id[] = [];
  let change = 0;
  for (const run of routed) {
    const corners = apart.get(run.id) ?? run.corners;
    const before = was[run.id];
    const by = before === undefined ? 0 : lengthOf(ctx, { ...run, corners }) - before;
    const moved = JSON.stringify(corners) !== JSON.stringify(ctx.doc.runs.byId[run.id]?.corners);
    if (moved) found.push({ run: run.id, corners });
    if (!moved && Math.abs(by) < NOTICED) continue;
    affected.push(run.id);
    change += by;
  }
  return { runs: found, affected, change, blocked };
}

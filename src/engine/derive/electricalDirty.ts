import { circuitsBeside, circuitsBesideRuns } from '../electrical/grouping.ts';
import type { Id, Thing } from '../model/document.ts';
import { hasEngineered } from '../checks/rules/joistChart.ts';
import { find, rows } from '../model/tables.ts';
import { scaleOf } from '../takeoff/calibration.ts';
import { contextOf, type IndexParts } from './derivedIndex.ts';
import { sides, storeysTouched, type Dirty } from './dirty.ts';
import { same } from './same.ts';
import type { Touched } from './types.ts';

/** Things the checks of circuits and of siting look at. They change rarely, so all is looked at again. */
const LOOKED_AT: ReadonlySet<Thing['kind']> = new Set([
  'bath',
  'shower',
  'shower-head',
  'sink',
  'hob',
  'hot-pipe',
  'gas-pipe',
  'insulation',
  'polystyrene',
]);

const circuitsIn = (dirty: Dirty): Id[] =>
  [...dirty.buckets].flatMap((key) => (key.startsWith('circuit ') ? [key.slice('circuit '.length)] : []));

/**
 * What the checks of circuits and of siting hang on beyond the records a circuit names (`changedRuns`: those that lie otherwise now): rooms, things, the scale, points
 * about an alarm or a sink, boxes and cables at a point, and loaded cables of other circuits side by side.
 */
export function followElectrical(
  before: IndexParts,
  next: IndexParts,
  touched: Touched,
  dirty: Dirty,
  changedRuns: Iterable<Id>,
): void {
  const { doc } = next;
  const looked = [...(touched.things ?? [])].flatMap((id) => sides(before.doc, doc, 'things', id));
  const things = looked.some((t) => LOOKED_AT.has(t.kind));
  const fabric = storeysTouched(before.doc, doc, touched).size > 0;
  if (things) dirty.look('run', doc.runs.order);
  if (things || dirty.points.size > 0) dirty.look('storey', doc.storeys.order);
  if ((touched.circuits?.size ?? 0) > 0) dirty.look('storey', doc.storeys.order);
  // Which storeys' engineered joists are crossed hangs on the runs.
  if (dirty.runs.size > 0)
    dirty.look(
      'storey',
      rows(doc.storeys)
        .filter(hasEngineered)
        .map((storey) => storey.id),
    );
  if ((touched.boxes?.size ?? 0) > 0) dirty.look('point', doc.points.order);
  for (const id of dirty.runs) {
    for (const run of sides(before.doc, doc, 'runs', id)) {
      dirty.look(
        'point',
        [run.from, run.to].filter((end) => find(doc, 'points', end) !== undefined),
      );
    }
  }
  if (things || fabric || !same(scaleOf(before.doc), scaleOf(doc))) {
    dirty.look('circuit', doc.circuits.order);
    return;
  }
  const circuits = circuitsIn(dirty);
  if (circuits.length === 0 || circuits.length === doc.circuits.order.length) return;
  const [was, is] = [contextOf(before), contextOf(next)];
  // A run that moved has other neighbours; a circuit that carries another load counts otherwise with all of its own.
  const loads = changedLoads(before, next, touched);
  for (const id of loads) {
    dirty.look('circuit', circuitsBeside(was, id));
    dirty.look('circuit', circuitsBeside(is, id));
  }
  const runs = new Set([...changedRuns, ...(touched.runs ?? [])]);
  dirty.look('circuit', circuitsBesideRuns(was, runs));
  dirty.look('circuit', circuitsBesideRuns(is, runs));
}

/** Circuits whose record changed, or a point of which came, went or changed in more than its place. */
function changedLoads(before: IndexParts, next: IndexParts, touched: Touched): ReadonlySet<Id> {
  const found = new Set<Id>(touched.circuits ?? []);
  for (const id of touched.points ?? []) {
    const [old, now] = [find(before.doc, 'points', id), find(next.doc, 'points', id)];
    if (old !== undefined && now !== undefined && same({ ...old, place: null }, { ...now, place: null }))
      continue;
    for (const circuit of [old?.circuit, now?.circuit]) if (circuit != null) found.add(circuit);
  }
  return found;
}

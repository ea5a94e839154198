import type { Id, PlanDocument, Reading } from '../../engine/model/document.ts';
import { command, drop, nextId, patch, put, refuse } from '../transact.ts';
import type { Command, Refusal } from '../types.ts';
import { isDate } from '../dates.ts';

/** Records a meter reading of a circuit, a run or a point. */
export function addReading(fields: Omit<Reading, 'id'>): Command {
  return command('Record reading', (draft, step) => {
    const wrong = readingRefusal(step.doc, fields);
    if (wrong) return wrong;
    const id = nextId(draft, 'readings');
    put(draft, 'readings', { ...fields, id });
    step.made(id);
  });
}

/** Corrects a reading. */
export function editReading(id: Id, fields: Partial<Omit<Reading, 'id'>>): Command {
  return command('Correct reading', (draft, step) => {
    const now = step.doc.readings.byId[id];
    if (!now) return refuse('That reading is no longer in the plan.');
    const wrong = readingRefusal(step.doc, { ...now, ...fields });
    if (wrong) return wrong;
    patch(draft, 'readings', id, fields);
  });
}

/** Takes readings away. */
export function removeReadings(ids: readonly Id[]): Command {
  return command(ids.length === 1 ? 'Remove reading' : 'Remove readings', (draft, step) => {
    if (ids.some((id) => !step.doc.readings.byId[id]))
      return refuse('That reading is no longer in the plan.');
    for (const id of ids) drop(draft, 'readings', id);
  });
}

function readingRefusal(doc: PlanDocument, r: Omit<Reading, 'id'>): Refusal | null {
  if (!Number.isFinite(r.value) || r.value < 0 || r.value > 1e7)
    return refuse('A reading is a number, 0 or more.');
  if (!isDate(r.date)) return refuse('A date is written as year-month-day, like 2026-05-17.');
  if (r.circuit === null && r.run === null && r.point === null)
    return refuse('Say which circuit, run or point was read.');
  const missing =
    (r.circuit !== null && !doc.circuits.byId[r.circuit]) ||
    (r.run !== null && !doc.runs.byId[r.run]) ||
    (r.point !== null && !doc.points.byId[r.point]);
  return missing ? refuse('What was read is no longer in the plan.') : null;
}

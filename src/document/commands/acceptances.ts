import type { Acceptance } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { command, drop, nextId, patch, put, refuse } from '../transact.ts';
import type { Command } from '../types.ts';
import { isDate } from '../dates.ts';

/** "I know, and here is why": keeps a reason with a finding. Accepting again replaces the reason. */
export function acceptFinding(fields: Omit<Acceptance, 'id'>): Command {
  return command('Accept finding', (draft, step) => {
    if (fields.reason.trim() === '')
      return refuse('Give the reason: it is kept and printed with the finding.');
    if (!isDate(fields.date)) return refuse('A date is written as year-month-day, like 2026-05-17.');
    const now = rows(step.doc.acceptances).find((a) => a.finding === fields.finding);
    if (now) return patch(draft, 'acceptances', now.id, fields);
    const id = nextId(draft, 'acceptances');
    put(draft, 'acceptances', { ...fields, id });
    step.made(id);
  });
}

/** Takes an acceptance back, by the key of its finding. */
export function withdrawAcceptance(finding: string): Command {
  return command('Withdraw acceptance', (draft, step) => {
    const now = rows(step.doc.acceptances).filter((a) => a.finding === finding);
    if (now.length === 0) return refuse('That finding was not accepted.');
    for (const each of now) drop(draft, 'acceptances', each.id);
  });
}

import type { Job } from '../../engine/model/document.ts';
import { assign, command, refuse } from '../transact.ts';
import type { Command } from '../types.ts';

/** Changes the job: title, notes, nation, rules edition, supply, allowances, costs, temperatures. */
export function editJob(fields: Partial<Job>): Command {
  return command('Edit job', (draft, step) => {
    const next = { ...step.doc.job, ...fields };
    const { supply, allowances, routeCosts } = next;
    const amounts = [supply.ze, supply.nominalV, supply.faultCurrent ?? 0, supply.electrode ?? 0];
    const lists = [...amounts, ...Object.values(allowances), ...Object.values(routeCosts)] as number[];
    if (lists.some((v) => !Number.isFinite(v) || v < 0 || v > 1e7))
      return refuse('Supply, allowances and costs are numbers, 0 or more.');
    if (supply.nominalV <= 0) return refuse('A voltage is more than 0 V.');
    if (allowances.percent > 100) return refuse('An allowance is at most 100 per cent.');
    if ([next.ambient, next.testTemperature].some((t) => !Number.isFinite(t) || t < -50 || t > 150))
      return refuse('A temperature is between -50 and 150 °C.');
    assign(draft.job as Record<string, unknown>, fields);
  });
}

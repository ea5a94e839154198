import { cuttingBench } from './cutting.ts';
import { panBench } from './pan.ts';
import { recheckBench } from './recheck.ts';
import { routingBench } from './routing.ts';
import { printRows } from './rows.ts';

/** Every ratio of the bench, each measured within this run. Ends with 1 when one is over its limit. */
async function main(): Promise<void> {
  const rows = [...recheckBench(), ...routingBench(), ...cuttingBench(), ...(await panBench())];
  process.exitCode = printRows(rows) === 0 ? 0 : 1;
}

void main();

import { DEFAULT_CABLES } from '../../src/engine/model/defaults.ts';
import { planDrums } from '../../src/engine/takeoff/drums.ts';
import { seeded } from '../../src/engine/takeoff/packing/types.ts';
import { median, timed, type Row } from './rows.ts';

const CUTS = 200;
const LISTS = 10;

/** Drums for 200 cuts of whole millimetres, priced, with remnants: one plan within a second. */
export function cuttingBench(): Row[] {
  const base = DEFAULT_CABLES[2];
  if (base === undefined) throw new Error('no default cables');
  const drums = [
    { length: 25, price: 17.99 },
    { length: 50, price: 32.49 },
    { length: 100, price: 58.99 },
  ];
  const cable = { ...base, drums, remnants: [14.2, 31.05] };
  let proven = 0;
  let widest = 0;
  const times = Array.from({ length: LISTS }, (_, seed) => {
    const random = seeded(seed);
    const pieces = Array.from({ length: CUTS }, (_piece, i) => ({
      run: `r${i}`,
      length: 800 + 14_000 * random() + 20_000 * random() ** 4,
    }));
    return timed(() => {
      const plan = planDrums(cable, pieces);
      proven += plan.proven ? 1 : 0;
      widest = Math.max(widest, plan.value / plan.lowerBound - 1);
    });
  });
  const worst = Math.max(...times);
  return [
    {
      what: `drums for ${CUTS} cuts, against one second`,
      ratio: worst / 1000,
      atMost: 1,
      detail: `worst of ${LISTS} lists ${worst.toFixed(0)} ms, median ${median(times).toFixed(0)} ms; ${proven} proven cheapest, widest gap ${(100 * widest).toFixed(2)} %`,
    },
  ];
}

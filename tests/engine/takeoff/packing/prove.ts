import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { seeded } from '../../../../src/engine/takeoff/packing/types.ts';
import type { BinKind, PackingTask } from '../../../../src/engine/takeoff/packing/types.ts';
import { optimumByHighs } from './arcFlow.ts';
import { published } from './lists.ts';

/*
 * Makes proven.json: `npx tsx tests/engine/takeoff/packing/prove.ts`, about half an hour. Each list is solved as an arc-flow integer
 * programme by HiGHS (npm highs, WASM); lists it does not prove optimal within a minute are left out. Never run by the
 * tests, which hold the planner to what is stored.
 */
const SECONDS = 60;

/** Cuts of a dwelling at half a metre: many of 2 to 12 m, a few long ones; longest first. */
function cuts(seed: number, count: number, top: number): number[] {
  const random = seeded(seed);
  return Array.from({ length: count }, () =>
    Math.max(1, Math.round(top * (0.01 + 0.1 * random() + 0.22 * random() ** 3))),
  ).sort((a, b) => b - a);
}

const METRES: readonly BinKind[] = [
  { capacity: 200, cost: 100 },
  { capacity: 100, cost: 50 },
  { capacity: 50, cost: 25 },
];
const MONEY: readonly BinKind[] = [
  { capacity: 200, cost: 6500 },
  { capacity: 100, cost: 3600 },
  { capacity: 50, cost: 2000 },
];
const CLASSIC: readonly BinKind[] = [150, 120, 100].map((c) => ({ capacity: c, cost: c }));

interface Named {
  readonly name: string;
  readonly task: PackingTask;
}

interface Proven extends Named {
  readonly optimum: number;
}

function candidates(): Named[] {
  const list: Named[] = [];
  const dwelling = (i: number, count: number, top: number) => {
    const scale = (kinds: readonly BinKind[]) =>
      kinds.map((k) => ({ ...k, capacity: (k.capacity * top) / 200 }));
    const what = `${count} cuts at ${top === 200 ? '0.5 m' : '1 m'}`;
    const owned = [70 + i, 35 + 2 * i].map((c) => Math.round((c * top) / 200));
    const none: number[] = [];
    list.push(
      {
        name: `dwelling, metres, ${what}`,
        task: { sizes: cuts(10 + i, count, top), kinds: scale(METRES), owned: none },
      },
      {
        name: `dwelling, money, ${what}`,
        task: { sizes: cuts(50 + i, count, top), kinds: scale(MONEY), owned: none },
      },
      {
        name: `dwelling, money, remnants, ${what}`,
        task: { sizes: cuts(90 + i, count, top), kinds: scale(MONEY), owned },
      },
    );
  };
  for (const [i, count] of [20, 30, 40, 60, 80, 100, 120].entries()) dwelling(i, count, 200);
  for (const [i, count] of [120, 150, 180, 200].entries()) dwelling(20 + i, count, 100);
  for (const [i, least] of [1, 20, 50, 1, 20, 50].entries()) {
    const random = seeded(130 + i);
    const count = i < 3 ? 60 : 100;
    const sizes = Array.from({ length: count }, () => least + Math.floor(random() * (101 - least))).sort(
      (a, b) => b - a,
    );
    list.push({
      name: `sizes 100/120/150, pieces ${least} to 100, ${count} cuts`,
      task: { sizes, kinds: CLASSIC, owned: [] },
    });
  }
  for (const { name, task } of published('./binpack1.txt').slice(4, 12))
    list.push({ name: `OR-Library ${name}`, task });
  return list;
}

/** What is proven stays: a list is solved again only when it is not in the file as it is. */
const file = new URL('./proven.json', import.meta.url);
const known = existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as { lists: Proven[] }).lists : [];
const how =
  'Optima proven by HiGHS 1.15.3 (npm highs, WASM) on the arc-flow programme of arcFlow.ts; made by prove.ts. ' +
  'Costs and lengths in whole units.';
const stored: Proven[] = [];
for (const { name, task } of candidates()) {
  const before = known.find((k) => k.name === name && JSON.stringify(k.task) === JSON.stringify(task));
  const started = Date.now();
  const optimum = before?.optimum ?? (await optimumByHighs(task, SECONDS));
  console.log(name, optimum, `${((Date.now() - started) / 1000).toFixed(1)} s`);
  if (optimum === null) continue;
  stored.push({ name, task, optimum });
  const rest = known.filter((k) => !stored.some((s) => s.name === k.name));
  writeFileSync(file, `${JSON.stringify({ how, lists: [...stored, ...rest] })}\n`);
}

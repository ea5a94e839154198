import { createStore } from '../../src/document/store.ts';
import { movePoint } from '../../src/document/commands/points.ts';
import { deriveAll } from '../../src/engine/derive/deriveAll.ts';
import { deriveChange } from '../../src/engine/derive/deriveChange.ts';
import { generateLarge } from '../samples/generate.ts';
import { rows } from '../../src/engine/model/tables.ts';
import { median, timed, type Row } from './rows.ts';

/** Moving one point against checking everything, on 1,000 walls and 3,000 runs. Points are spread over the plan. */
export function recheckBench(): Row[] {
  const doc = generateLarge(1, 1000, 3000);
  const store = createStore(doc);
  let whole = deriveAll(doc);
  const full = median([0, 1, 2].map(() => timed(() => void (whole = deriveAll(doc)))));
  const points = rows(doc.points).filter((p) => p.place.on === 'face' && p.kind === 'socket');
  const moves: number[] = [];
  let runs = 0;
  for (let i = 0; i < 60; i += 1) {
    const point = points[Math.floor((i * points.length) / 60)];
    if (point === undefined || point.place.on !== 'face') continue;
    const place = { ...point.place, along: point.place.along + 40 };
    let touched: Parameters<typeof deriveChange>[2] = {};
    const stop = store.subscribe((_state, what) => {
      if (what !== 'all') touched = what;
    });
    const done = store.dispatch(movePoint(point.id, place));
    stop();
    if (!done.ok) continue;
    runs += touched.runs?.size ?? 0;
    moves.push(
      timed(() => {
        whole = deriveChange(whole, store.getState().doc, touched).next;
      }),
    );
  }
  const one = median(moves);
  const worst = Math.max(...moves);
  return [
    {
      what: 'moving one point, against the full check of the large plan',
      ratio: one / full,
      atMost: 1 / 100,
      detail: `median of ${moves.length} moves ${one.toFixed(2)} ms (worst ${worst.toFixed(2)} ms, ${(runs / moves.length).toFixed(1)} runs each), full ${full.toFixed(0)} ms`,
    },
  ];
}

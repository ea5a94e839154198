import { useState, type ReactNode } from 'react';
import { cutWithAllowance } from '../../engine/takeoff/totals.ts';
import type { CableTotal } from '../../engine/takeoff/types.ts';
import { metres } from '../ui/lengths.tsx';
import { runName } from '../ui/names.ts';
import { pick } from '../../app/program.ts';
import { useDerived, useDoc, useProgram } from '../ui/hooks.ts';
import { showRun } from '../../app/show.ts';
import { Unfinished, allowanceOf } from '../ui/toCut.tsx';

/** Metres to a centimetre without their unit, which the head of the column says. */
const bare = (mm: number): string => (mm / 1000).toFixed(2);

/** One cable: its line of figures, and under each the runs it is made of. */
export function CableFigures(props: { readonly total: CableTotal }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { takeOff } = useDerived();
  const [open, setOpen] = useState(false);
  const { total } = props;
  const light = (runs: readonly string[]): void =>
    program.session.set({ lit: new Set(runs.map((run) => `run:${run}`)) });
  const figures: readonly (readonly [string, number, string])[] = [
    ['Run', total.runMm, 'Level and sloping metres, in 3-D'],
    ['Rise and drop', total.riseDropMm, 'Plumb metres'],
    ['Through walls', total.throughMm, 'Thickness of what is crossed'],
    ['Tails', total.tailsMm, 'Ends left at boxes, fittings and the board'],
    [`Allowance ${doc.job.allowances.percent} %`, total.allowanceMm, 'On measured metres and tails'],
  ];
  return (
    <section className="card" aria-label={total.name}>
      <button
        type="button"
        className="headline"
        aria-expanded={open}
        onClick={() => {
          setOpen(!open);
          light(open ? [] : total.runs);
        }}
        onPointerEnter={() => light(total.runs)}
        onPointerLeave={() => light([])}
      >
        <span className="caret" aria-hidden="true" />
        <span>{total.name}</span>
        <b className="num">{metres(total.orderMm)}</b>
      </button>
      <dl className="figures">
        {figures.map(([name, value, title]) => (
          <div key={name} title={title}>
            <dt>{name}</dt>
            <dd>{metres(value)}</dd>
          </div>
        ))}
        {total.errorMm > 0 && (
          <div>
            <dt>Measured metres are good to</dt>
            <dd>± {metres(total.errorMm)}</dd>
          </div>
        )}
      </dl>
      {open && (
        <div className="scroll">
          <table className="table working">
            <caption className="unseen">Working of {total.name}, run by run</caption>
            <thead>
              <tr>
                <th scope="col">From, to</th>
                <th scope="col">Run, m</th>
                <th scope="col">Rise, drop</th>
                <th scope="col">Through</th>
                <th scope="col">Tails</th>
                <th scope="col">Allowance</th>
                <th scope="col">To cut, m</th>
              </tr>
            </thead>
            <tbody>
              {total.runs.map((id) => {
                const length = takeOff.runs.get(id);
                const run = doc.runs.byId[id];
                if (!length || !run) return null;
                return (
                  <tr
                    key={id}
                    onPointerEnter={() => light([id])}
                    onPointerLeave={() => light(total.runs)}
                    onFocus={() => light([id])}
                  >
                    <th scope="row">
                      <button
                        type="button"
                        className="link"
                        onClick={() => {
                          pick(program, 'runs', id);
                          showRun(program, id);
                        }}
                      >
                        {runName(doc, run)}
                      </button>
                    </th>
                    <td className="num">{bare(length.runMm)}</td>
                    <td className="num">{bare(length.riseDropMm)}</td>
                    <td className="num">{bare(length.throughMm)}</td>
                    <td className="num" title={`${length.tailFromWhy}; ${length.tailToWhy}`}>
                      {bare(length.tailFromMm + length.tailToMm)}
                    </td>
                    <td className="num">{bare(allowanceOf(doc, length))}</td>
                    <td className="num">
                      <b>{bare(cutWithAllowance(doc, length))}</b>
                      <Unfinished length={length} />
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
        </div>
      )}
    </section>
  );
}

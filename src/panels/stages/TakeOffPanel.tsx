import { useState, type ReactNode } from 'react';
import type { CableTotal } from '../../engine/takeoff/types.ts';
import { toCsv } from '../../io/csv.ts';
import { AllowanceFields, CableStock } from '../Allowances.tsx';
import { Caution, First } from '../First.tsx';
import { DrumPlans } from '../DrumPlans.tsx';
import { download, fileName } from '../download.ts';
import { metres } from '../lengths.tsx';
import { runName } from '../names.ts';
import { pick, say, useDerived, useDoc, useProgram } from '../program.ts';
import { showRun } from '../show.ts';
import { takeOffRows, takeOffText } from '../takeOffText.ts';

/** Metres per cable, each figure opening into its working, then drums and everything else to buy. */
export function TakeOffPanel(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { takeOff } = useDerived();
  const { scale } = takeOff;
  return (
    <>
      {scale.state === 'refused' ? (
        <div className="refused" role="note">
          <h3>Metres refused</h3>
          <p>{scale.why}</p>
          <button
            type="button"
            onClick={() => program.session.set({ stage: 'drawing', tool: 'picture-scale' })}
          >
            Mark a known length
          </button>
        </div>
      ) : takeOff.cables.length === 0 ? (
        <First />
      ) : (
        <>
          <div className="row">
            <button
              type="button"
              onClick={() => {
                void navigator.clipboard.writeText(takeOffText(doc, takeOff)).then(
                  () => say(program, 'Take-off copied.', 'good'),
                  () =>
                    say(program, 'The browser did not let the take-off be copied. Use CSV instead.', 'bad'),
                );
              }}
            >
              Copy
            </button>
            <button
              type="button"
              onClick={() =>
                download(
                  fileName(doc.job.title, '-take-off.csv'),
                  'text/csv',
                  toCsv(takeOffRows(doc, takeOff)),
                )
              }
            >
              CSV
            </button>
            <span className="quiet">
              {scale.state === 'measured'
                ? `Scale from ${scale.lengths} known ${scale.lengths === 1 ? 'length' : 'lengths'}, ± ${scale.errorPerMetre.toFixed(1)} mm in each metre.`
                : 'Drawn from typed lengths.'}
            </span>
          </div>
          {takeOff.cables.map((total) => (
            <CableFigures key={total.cable} total={total} />
          ))}
          <DrumPlans />
        </>
      )}
      <Sundries />
      <details>
        <summary>
          <h3>Allowances and tails</h3>
        </summary>
        <AllowanceFields />
      </details>
      <details>
        <summary>
          <h3>Cables: drums and prices</h3>
        </summary>
        <CableStock />
      </details>
      <Caution>
        A count from a drawing is as good as the drawing. Allow for what the walls turn out to be, and have
        the sizes confirmed by whoever will sign for them before you buy.
      </Caution>
    </>
  );
}

/** One cable: its line of figures, and under each the runs it is made of. */
function CableFigures(props: { readonly total: CableTotal }): ReactNode {
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
                <th scope="col">Run</th>
                <th scope="col">Rise, drop</th>
                <th scope="col">Through</th>
                <th scope="col">Tails</th>
                <th scope="col">To cut</th>
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
                    <td className="num">{metres(length.runMm)}</td>
                    <td className="num">{metres(length.riseDropMm)}</td>
                    <td className="num">{metres(length.throughMm)}</td>
                    <td className="num" title={`${length.tailFromWhy}; ${length.tailToWhy}`}>
                      {metres(length.tailFromMm + length.tailToMm)}
                    </td>
                    <td className="num">
                      <b>{metres(length.cutMm)}</b>
                      {!length.whole && <small> unfinished</small>}
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

function Sundries(): ReactNode {
  const program = useProgram();
  const { takeOff } = useDerived();
  if (takeOff.sundries.length === 0) return null;
  return (
    <details open>
      <summary>
        <h3>Also to buy or drill</h3>
        <span className="count">{takeOff.sundries.length}</span>
      </summary>
      <ul className="sundries">
        {takeOff.sundries.map((each) => (
          <li
            key={each.key}
            onPointerEnter={() =>
              program.session.set({
                lit: new Set([
                  ...each.runs.map((id) => `run:${id}`),
                  ...each.points.map((id) => `point:${id}`),
                ]),
              })
            }
            onPointerLeave={() => program.session.set({ lit: new Set() })}
          >
            <details>
              <summary>
                <span>{each.what}</span>
                <b className="num">{each.count}</b>
              </summary>
              <p>{each.working}</p>
              <p className="source">{each.source}</p>
            </details>
          </li>
        ))}
      </ul>
    </details>
  );
}

import { useMemo, type ReactNode } from 'react';
import { cutList, drumShortfall } from '../../engine/takeoff/cutList.ts';
import type { DrumPlan } from '../../engine/takeoff/types.ts';
import { metres } from '../ui/lengths.tsx';
import { runName } from '../ui/names.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';

/** The cuts in pulling order with what is left on the drum after each, and where a drum would end if cut as they come. */
export function CutsInOrder(props: { readonly plan: DrumPlan }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { plan } = props;
  const cuts = useMemo(() => cutList(plan, doc.runs.order), [plan, doc.runs.order]);
  const asTheyCome = useMemo(
    () =>
      drumShortfall(
        cuts,
        plan.drums.map((drum) => drum.length),
        (run) => doc.runs.byId[run]?.label ?? run,
      ),
    [cuts, plan, doc],
  );
  if (cuts.length === 0) return null;
  const light = (run: string | null): void =>
    program.session.set({ lit: new Set(run === null ? [] : [`run:${run}`]) });
  return (
    <details>
      <summary>
        <h4>Cut list in pulling order</h4>
      </summary>
      {asTheyCome.short.length > 0 ? (
        <div className="help warn">
          <p>Keep to the drums below. Cut as they come, these drums would run short:</p>
          <ul className="whys">
            {asTheyCome.notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        </div>
      ) : (
        <p className="quiet">These drums are enough in any case: cut as they come, none runs short.</p>
      )}
      <div className="scroll">
        <table className="table cuts">
          <caption className="unseen">Cuts in pulling order</caption>
          <thead>
            <tr>
              <th scope="col">Run</th>
              <th scope="col" className="num">
                Cut
              </th>
              <th scope="col">From drum</th>
              <th scope="col" className="num">
                Then left
              </th>
            </tr>
          </thead>
          <tbody>
            {cuts.map((cut) => {
              const run = doc.runs.byId[cut.run];
              return (
                <tr key={cut.run} onPointerEnter={() => light(cut.run)} onPointerLeave={() => light(null)}>
                  <th scope="row">{run ? runName(doc, run) : cut.run}</th>
                  <td className="num">{metres(cut.length)}</td>
                  <td>
                    {cut.drum + 1} ({cut.drumLength} m{cut.owned ? ', yours' : ''})
                  </td>
                  <td className="num">{metres(cut.left)}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </details>
  );
}

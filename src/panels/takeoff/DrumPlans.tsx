import type { ReactNode } from 'react';
import { metres } from '../ui/lengths.tsx';
import { useDerived, useDoc, useProgram } from '../ui/hooks.ts';
import { CutsInOrder } from './CutsInOrder.tsx';
import { Sensitivity } from './Sensitivity.tsx';
import type { DrumPlan } from '../../engine/takeoff/types.ts';

/** Which drums to buy and which run is cut from which. "Cheapest possible" only where it is proven. */
export function DrumPlans(): ReactNode {
  const { drums } = useDerived();
  const doc = useDoc();
  if (drums.length === 0) return null;
  return (
    <details open>
      <summary>
        <h3>Drums</h3>
      </summary>
      {drums.map((plan) => (
        <Plan key={plan.cable} plan={plan} name={doc.cables.byId[plan.cable]?.name ?? plan.cable} />
      ))}
      <Sensitivity />
    </details>
  );
}

/** How good a drum plan is: proven best, or how far at most from the best there can be. */
export function boundWords(plan: DrumPlan): string {
  const money = plan.objective === 'money';
  const unpriced = money ? '' : ' Metres are counted because not every drum has a price.';
  if (plan.proven)
    return `${money ? 'Cheapest possible' : 'Fewest metres possible'} with these drums.${unpriced}`;
  const apart = plan.value - plan.lowerBound;
  return `Within ${money ? apart.toFixed(2) : `${Math.ceil(apart)} m`} of the ${money ? 'cheapest' : 'best'} there can be.${unpriced}`;
}

function Plan(props: { readonly plan: DrumPlan; readonly name: string }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { plan } = props;
  const label = (run: string): string => doc.runs.byId[run]?.label ?? run;
  const counts = new Map<string, number>();
  for (const drum of plan.drums) {
    const name = drum.owned ? `the ${drum.length} m you have` : `${drum.length} m`;
    counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  return (
    <section className="drums" aria-label={`Drums of ${props.name}`}>
      <h4>{props.name}</h4>
      {plan.drums.length > 0 && (
        <p>
          <b>{[...counts].map(([name, count]) => `${count} × ${name}`).join(', ')}</b>
          {plan.cost !== null && `, ${plan.cost.toFixed(2)} altogether`}
          {'. '}
          <span className="quiet">{boundWords(plan)}</span>
        </p>
      )}
      {plan.tooLong.length > 0 && (
        <p className="help bad">
          {plan.tooLong.map(label).join(', ')} {plan.tooLong.length === 1 ? 'is' : 'are'} longer than any
          drum, and a run is never joined.
        </p>
      )}
      <ol className="drumbars">
        {plan.drums.map((drum, index) => (
          <li key={index}>
            <span className="drum-name">
              {drum.length} m{drum.owned && ' (owned)'}
            </span>
            <span className="bar">
              {drum.cuts.map((cut) => (
                <button
                  className="button cut-bar"
                  key={cut.run}
                  type="button"
                  style={{ flexGrow: cut.length }}
                  title={`${label(cut.run)}: ${metres(cut.length)}, then ${metres(cut.left)} left`}
                  aria-label={`${label(cut.run)}, ${metres(cut.length)}`}
                  onPointerEnter={() => program.session.set({ lit: new Set([`run:${cut.run}`]) })}
                  onPointerLeave={() => program.session.set({ lit: new Set() })}
                  onClick={() =>
                    program.session.set({ selection: [{ table: 'runs', id: cut.run, part: null }] })
                  }
                >
                  <span>{label(cut.run)}</span>
                </button>
              ))}
              {drum.left > 0 && (
                <span className="left" style={{ flexGrow: drum.left }} title={`${metres(drum.left)} left`} />
              )}
            </span>
            <span className="num">{metres(drum.left)} left</span>
          </li>
        ))}
      </ol>
      <CutsInOrder plan={plan} />
    </section>
  );
}

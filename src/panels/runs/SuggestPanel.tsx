import { useMemo, type ReactNode } from 'react';
import { rows } from '../../engine/model/tables.ts';
import { unroutedCircuits } from '../../engine/routing/wholePlan.ts';
import { circuitName } from '../ui/names.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';
import { Between } from './Between.tsx';
import { CostFields } from './CostFields.tsx';
import { useSuggest } from '../ui/useSuggest.ts';
import { WaysOfCircuit } from './WaysOfCircuit.tsx';
import './suggest.css';

/** Everything the program finds by itself: all that is not routed, one circuit by several ways, one run. */
export function SuggestPanel(): ReactNode {
  const doc = useDoc();
  const problem = useSuggest((state) => state.problem);
  if (doc.points.order.length === 0) return null;
  return (
    <details open className="suggest">
      <summary>
        <h3>Suggest</h3>
      </summary>
      <LayWhatIsLeft />
      <WaysOfCircuit />
      <Between />
      {problem !== null && (
        <p className="help bad" role="alert">
          {problem}
        </p>
      )}
      <details>
        <summary>
          <h4>What a way costs</h4>
        </summary>
        <CostFields />
      </details>
    </details>
  );
}

/** How far it has come, and the way out. */
function RoutingProgress(): ReactNode {
  const { suggestions } = useProgram();
  const progress = useSuggest((state) => state.progress);
  return (
    <div className="suggest-progress">
      <progress
        aria-label="Circuits routed"
        max={progress?.total ?? 1}
        {...(progress ? { value: progress.done } : {})}
      />
      <span>
        {progress ? `${progress.done} of ${progress.total}: ${progress.what}` : 'Looking at the walls …'}
      </span>
      <button className="button" type="button" onClick={() => suggestions.cancel()}>
        Cancel
      </button>
    </div>
  );
}

/** One click for all circuits that have points without runs, with progress, a way out, and what came of it. */
function LayWhatIsLeft(): ReactNode {
  const doc = useDoc();
  const { suggestions } = useProgram();
  const busy = useSuggest((state) => state.busy);
  const whole = useSuggest((state) => state.whole);
  const routing = busy === 'circuits';
  const open = useMemo(() => unroutedCircuits(doc), [doc]);
  return (
    <section className="suggest-left" aria-label="Lay what is left">
      {routing ? (
        <RoutingProgress />
      ) : (
        <>
          <button
            type="button"
            className={open.length > 0 ? 'button primary' : 'button'}
            disabled={open.length === 0 || busy !== null}
            onClick={() => suggestions.layWhatIsLeft()}
          >
            Lay what is left
          </button>
          <p className="quiet">
            {open.length === 0
              ? 'Every point on a circuit has a run.'
              : `${open.length} ${open.length === 1 ? 'circuit has' : 'circuits have'} points without a run. Runs drawn by hand and locked ones stay.`}
          </p>
        </>
      )}
      {whole !== null && !routing && (
        <div role="status" className="suggest-summary">
          <p>
            <b>{whole.runs}</b> runs, <b>{whole.metres.toFixed(2)} m</b> without tails, <b>{whole.drops}</b>{' '}
            {whole.drops === 1 ? 'drop' : 'drops'}.
          </p>
          {whole.blocked.length > 0 && (
            <>
              <p className="help bad">No way found for:</p>
              <ul className="whys">
                {whole.blocked.slice(0, 20).map(({ circuit, reason }, i) => (
                  <li key={i}>
                    {circuitName(rows(doc.circuits).find((c) => c.id === circuit))}: {reason}
                  </li>
                ))}
                {whole.blocked.length > 20 && <li>and {whole.blocked.length - 20} more</li>}
              </ul>
            </>
          )}
        </div>
      )}
    </section>
  );
}

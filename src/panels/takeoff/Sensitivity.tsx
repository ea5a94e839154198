import type { ReactNode } from 'react';
import { useDoc, useProgram } from '../ui/hooks.ts';
import { useSuggest } from '../ui/useSuggest.ts';

/** What the next 100 mm of ceiling, or one more socket, would do to metres and drums. Worked out when asked for. */
export function Sensitivity(): ReactNode {
  const { suggestions } = useProgram();
  const doc = useDoc();
  const busy = useSuggest((state) => state.busy);
  const found = useSuggest((state) => state.sensitivity);
  const stale = found !== null && found.doc !== doc;
  return (
    <details>
      <summary>
        <h3>What if</h3>
      </summary>
      <p className="quiet">
        Ceilings 100 mm higher, or one more socket on a circuit, a metre on from its last.
      </p>
      <div className="row">
        <button
          className="button"
          type="button"
          disabled={busy !== null}
          onClick={() => suggestions.askSensitivity()}
        >
          {found === null ? 'Work it out' : 'Work it out again'}
        </button>
        {busy === 'sensitivity' && (
          <>
            <span role="status">Working it out …</span>
            <button className="button" type="button" onClick={() => suggestions.cancel()}>
              Cancel
            </button>
          </>
        )}
      </div>
      {found !== null && (
        <>
          {stale && <p className="help warn">The plan has changed since.</p>}
          {found.changes.length === 0 ? (
            <p>Nothing would change.</p>
          ) : (
            <ul className="whatif">
              {found.changes.map((change) => (
                <li key={`${change.change} ${change.cable}`}>
                  {change.sentence}
                  {change.cost !== null && change.cost !== 0 && (
                    <b>
                      {' '}
                      {change.cost > 0 ? '+' : '−'}
                      {Math.abs(change.cost).toFixed(2)}
                    </b>
                  )}
                </li>
              ))}
            </ul>
          )}
        </>
      )}
    </details>
  );
}

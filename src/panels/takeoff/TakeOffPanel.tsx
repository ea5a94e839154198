import type { ReactNode } from 'react';
import { AllowanceFields, CableStock } from './Allowances.tsx';
import { BoxStock } from './BoxStock.tsx';
import { Caution, First } from '../ui/First.tsx';
import { DrumPlans } from './DrumPlans.tsx';
import { useDerived, useProgram } from '../ui/hooks.ts';
import { CableFigures } from '../takeoff/CableFigures.tsx';
import { Gaps } from '../takeoff/Gaps.tsx';
import { HandOut } from '../takeoff/HandOut.tsx';
import { Sundries } from '../takeoff/Sundries.tsx';
import { Checked } from '../ui/Checked.tsx';
import './takeoff.css';

/** Metres per cable, each figure opening into its working, then drums and everything else to buy. */
export function TakeOffPanel(): ReactNode {
  const program = useProgram();
  const { takeOff } = useDerived();
  const { scale } = takeOff;
  return (
    <>
      <Checked sums>
        {scale.state === 'refused' ? (
          <div className="refused" role="note">
            <h3>Metres refused</h3>
            <p>{scale.why}</p>
            <button
              className="button"
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
            <Gaps />
            <div className="row">
              <HandOut />
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
      </Checked>
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
      <details>
        <summary>
          <h3>Back boxes</h3>
        </summary>
        <BoxStock />
      </details>
      <Caution>
        A count from a drawing is as good as the drawing. Allow for what the walls turn out to be, and have
        the sizes confirmed by whoever will sign for them before you buy.
      </Caution>
    </>
  );
}

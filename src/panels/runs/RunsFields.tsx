import type { ReactNode } from 'react';
import { editRuns } from '../../document/commands/runs.ts';
import type { Run } from '../../engine/model/document.ts';
import { cutWithAllowance } from '../../engine/takeoff/totals.ts';
import { metres } from '../ui/lengths.tsx';
import { perform } from '../../app/program.ts';
import { useDerived, useDoc, useProgram } from '../ui/hooks.ts';
import { SharedRunFields } from './RunFields.tsx';

/** What several runs have in common, and their metres together. */
export function RunsFields(props: { readonly runs: readonly Run[] }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { takeOff } = useDerived();
  const { runs } = props;
  const total = runs.reduce((sum, run) => {
    const length = takeOff.runs.get(run.id);
    return length ? sum + cutWithAllowance(doc, length) : sum;
  }, 0);
  return (
    <>
      {takeOff.scale.state !== 'refused' && <p className="answers">Together {metres(total)} to cut</p>}
      <SharedRunFields
        runs={runs}
        edit={(fields) => {
          const outcome = perform(
            program,
            editRuns(
              runs.map((run) => run.id),
              fields,
            ),
          );
          if (!outcome.ok) return outcome.reason;
        }}
      />
    </>
  );
}

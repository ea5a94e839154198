import type { ReactNode } from 'react';
import { editRuns } from '../../document/commands/runs.ts';
import type { Run } from '../../engine/model/document.ts';
import { perform } from '../../app/program.ts';
import { useProgram } from '../ui/hooks.ts';

/** Marks a suggested run, and locks any run against drags and suggestions. */
export function RunOrigin(props: { readonly run: Run }): ReactNode {
  const program = useProgram();
  const { run } = props;
  return (
    <span className="run-origin">
      {run.origin === 'suggested' && <span className="tag">suggested</span>}
      <button
        type="button"
        className="button plain"
        aria-pressed={run.locked}
        aria-label={`${run.label} locked`}
        title={
          run.locked
            ? 'Locked: neither a drag nor a suggestion moves it'
            : 'Lock it against drags and suggestions'
        }
        onClick={() => void perform(program, editRuns([run.id], { locked: !run.locked }))}
      >
        {run.locked ? 'Locked' : 'Lock'}
      </button>
    </span>
  );
}

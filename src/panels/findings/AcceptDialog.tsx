import { useState, type ReactNode } from 'react';
import type { Finding } from '../../engine/checks/types.ts';
import { acceptFinding } from '../../document/commands/acceptances.ts';
import { Dialog } from '../ui/Dialog.tsx';
import { perform } from '../../app/program.ts';
import { useProgram } from '../ui/hooks.ts';
import { SourceLine } from '../ui/SourceLine.tsx';

/** "I know, and here is why": the reason is kept in the plan and printed with the finding. */
export function AcceptDialog(props: { readonly finding: Finding; readonly onClose: () => void }): ReactNode {
  const program = useProgram();
  const [reason, setReason] = useState('');
  const [by, setBy] = useState('');
  const { finding } = props;
  const accept = (): void => {
    const outcome = perform(
      program,
      acceptFinding({ finding: finding.key, reason: reason.trim(), by: by.trim(), date: program.today() }),
    );
    if (outcome.ok) props.onClose();
  };
  return (
    <Dialog title="Accept with a reason" onClose={props.onClose}>
      <form
        method="dialog"
        onSubmit={(event) => {
          event.preventDefault();
          accept();
        }}
      >
        <p>{finding.message}</p>
        <SourceLine text={finding.source} rank={finding.rank} />
        <div className="field">
          <label htmlFor="accept-reason">Reason (kept and printed)</label>
          <textarea
            id="accept-reason"
            rows={3}
            required
            maxLength={1000}
            value={reason}
            autoFocus
            onChange={(event) => setReason(event.target.value)}
          />
        </div>
        <div className="field">
          <label htmlFor="accept-by">Who decided (optional)</label>
          <span className="entry">
            <input
              id="accept-by"
              value={by}
              maxLength={120}
              autoComplete="off"
              onChange={(event) => setBy(event.target.value)}
            />
          </span>
        </div>
        <div className="dialog-foot">
          <button className="button" type="button" onClick={props.onClose}>
            Cancel
          </button>
          <button type="submit" className="button primary" disabled={reason.trim() === ''}>
            Accept
          </button>
        </div>
      </form>
    </Dialog>
  );
}

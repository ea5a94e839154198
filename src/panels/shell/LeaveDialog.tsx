import { useRef, type ReactNode } from 'react';
import { Dialog } from '../ui/Dialog.tsx';
import { useProgram, useStore } from '../ui/hooks.ts';
import type { Leave } from '../../app/question.ts';

/** Before another plan takes the place of the open one, which is kept in no file yet. */
export function LeaveDialog(): ReactNode {
  const { leaving } = useProgram();
  const title = useStore((state) => state.doc.job.title);
  const chosen = useRef<Leave>('stay');
  const choose = (leave: Leave): void => {
    chosen.current = leave;
    leaving.answer(leave);
  };
  return (
    <Dialog title="Put this plan away?" onClose={() => leaving.answer(chosen.current)}>
      <p>
        “{title}” has changes that are in no file of yours. One plan is open at a time: the next one takes its
        place in this browser.
      </p>
      <div className="dialog-foot">
        <button className="button" type="button" onClick={() => choose('stay')}>
          Keep it open
        </button>
        <button className="button" type="button" onClick={() => choose('go')}>
          Put it away unsaved
        </button>
        <button type="button" className="button primary" onClick={() => choose('save')}>
          Save a copy first
        </button>
      </div>
    </Dialog>
  );
}

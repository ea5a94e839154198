import { useEffect, type ReactNode } from 'react';
import { useProgram, useSession } from '../ui/hooks.ts';

/** The line under the drawing: what the tool waits for, and the last thing said (also to screen readers). */
export function NoticeLine(): ReactNode {
  const program = useProgram();
  const hint = useSession((state) => state.hint);
  const notice = useSession((state) => state.notice);
  useEffect(() => {
    if (!notice || notice.tone === 'bad') return;
    const timer = setTimeout(() => {
      if (program.session.getState().notice === notice) program.session.set({ notice: null });
    }, 8000);
    return () => clearTimeout(timer);
  }, [notice, program]);
  // An error has had its say once the next thing has been done: whatever changed the plan, by tool, panel, file or undo.
  useEffect(() => {
    let rev = program.store.getState().rev;
    return program.store.subscribe((state) => {
      if (state.rev === rev) return;
      rev = state.rev;
      if (program.session.getState().notice?.tone === 'bad') program.session.set({ notice: null });
    });
  }, [program]);
  return (
    <footer className="line">
      <p className="hint">{hint}</p>
      <div role="status" aria-live="polite" className="said">
        {notice && notice.tone !== 'bad' && (
          <p className={notice.tone} key={notice.at}>
            {notice.text}
          </p>
        )}
      </div>
      <div role="alert" className="said">
        {notice?.tone === 'bad' && (
          <p className="bad" key={notice.at}>
            <span aria-hidden="true">✕ </span>
            {notice.text}
            <button
              type="button"
              className="button plain"
              aria-label="Dismiss"
              onClick={() => program.session.set({ notice: null })}
            >
              ✕
            </button>
          </p>
        )}
      </div>
    </footer>
  );
}

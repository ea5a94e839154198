import { useEffect, useId, useRef, type ReactNode } from 'react';

/** A modal dialog of the browser's own: it holds the focus, Escape closes, and the focus goes back. */
export function Dialog(props: {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
  readonly wide?: boolean;
}): ReactNode {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const element = dialog.current;
    const before = document.activeElement;
    if (element && !element.open) element.showModal();
    return () => {
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      aria-labelledby={id}
      className={props.wide ? 'wide' : undefined}
      onClose={props.onClose}
      onKeyDown={(event) => event.stopPropagation()}
      onPointerDown={(event) => {
        if (event.target === dialog.current) dialog.current?.close();
      }}
    >
      <div className="dialog-body">
        <div className="dialog-head">
          <h2 id={id}>{props.title}</h2>
          <button
            type="button"
            className="button plain"
            aria-label="Close"
            onClick={() => dialog.current?.close()}
          >
            ✕
          </button>
        </div>
        {props.children}
      </div>
    </dialog>
  );
}

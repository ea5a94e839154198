import { useEffect, useId, useRef, useState, type KeyboardEvent, type ReactNode } from 'react';

/** A button that opens a list of commands: arrows move, Escape closes and gives the focus back. */
export function Menu(props: {
  readonly label: string;
  readonly className?: string;
  readonly align?: 'start' | 'end';
  readonly children: (close: () => void) => ReactNode;
}): ReactNode {
  const [open, setOpen] = useState(false);
  const id = useId();
  const button = useRef<HTMLButtonElement>(null);
  const list = useRef<HTMLDivElement>(null);

  useEffect(() => {
    if (!open) return;
    list.current?.querySelector<HTMLElement>('[role^=menuitem]')?.focus();
    const outside = (event: PointerEvent): void => {
      if (!(event.target instanceof Node)) return;
      if (!list.current?.contains(event.target) && !button.current?.contains(event.target)) setOpen(false);
    };
    document.addEventListener('pointerdown', outside, true);
    return () => document.removeEventListener('pointerdown', outside, true);
  }, [open]);

  const close = (): void => {
    setOpen(false);
    button.current?.focus();
  };
  const keys = (event: KeyboardEvent): void => {
    const items = [...(list.current?.querySelectorAll<HTMLElement>('[role^=menuitem]') ?? [])];
    const at = items.indexOf(document.activeElement as HTMLElement);
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (event.key === 'Escape') close();
    else if (event.key === 'Tab') setOpen(false);
    else if (step !== undefined) items[(at + step + items.length) % items.length]?.focus();
    else if (event.key === 'Home') items[0]?.focus();
    else if (event.key === 'End') items.at(-1)?.focus();
    else return;
    if (event.key !== 'Tab') {
      event.preventDefault();
      event.stopPropagation();
    }
  };

  return (
    <div className="menu">
      <button
        ref={button}
        type="button"
        className={props.className}
        aria-haspopup="menu"
        aria-expanded={open}
        aria-controls={open ? id : undefined}
        onClick={() => setOpen(!open)}
      >
        {props.label}
        <span className="caret" aria-hidden="true" />
      </button>
      {open && (
        <div
          ref={list}
          id={id}
          role="menu"
          tabIndex={-1}
          className={`menu-list ${props.align === 'end' ? 'end' : ''}`}
          aria-label={props.label}
          onKeyDown={keys}
        >
          {props.children(close)}
        </div>
      )}
    </div>
  );
}

export function MenuItem(props: {
  readonly onPick: () => void;
  readonly children: ReactNode;
  readonly keys?: string;
  readonly on?: boolean;
  readonly title?: string;
}): ReactNode {
  return (
    <button
      className="menu-item"
      type="button"
      role={props.on === undefined ? 'menuitem' : 'menuitemradio'}
      aria-checked={props.on}
      tabIndex={-1}
      title={props.title}
      onClick={props.onPick}
    >
      <span>{props.children}</span>
      {props.keys && <kbd>{props.keys}</kbd>}
    </button>
  );
}

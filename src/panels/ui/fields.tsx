import { useEffect, useId, useRef, useState, type ReactNode } from 'react';

/** A parsed entry, or what is wrong with it in one plain sentence. */
export type Parsed<T> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly reason: string };

interface EntryProps<T> {
  readonly label: string;
  readonly value: T;
  readonly show: (value: T) => string;
  readonly read: (text: string) => Parsed<T>;
  /** Returns a reason to keep the entry open with the text as typed. */
  readonly onCommit: (value: T) => string | void;
  readonly unit?: string;
  readonly help?: string | undefined;
  readonly disabled?: boolean | undefined;
  readonly inputMode?: 'decimal' | 'text';
  readonly hideLabel?: boolean | undefined;
  readonly list?: string;
  readonly className?: string;
}

/**
 * A text entry that commits on Enter and on leaving, and goes back on Escape. What was typed stays while it is wrong,
 * with the reason beneath.
 */
export function Entry<T>(props: EntryProps<T>): ReactNode {
  const id = useId();
  const shown = props.show(props.value);
  const [text, setText] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => {
    setText(null);
    setProblem(null);
  }, [shown]);

  const commit = (): void => {
    if (text === null || text === shown) {
      setText(null);
      setProblem(null);
      return;
    }
    const parsed = props.read(text);
    if (!parsed.ok) {
      setProblem(parsed.reason);
      return;
    }
    const refused = props.onCommit(parsed.value);
    if (typeof refused === 'string') {
      setProblem(refused);
      return;
    }
    setText(null);
    setProblem(null);
  };

  return (
    <div className={`field ${props.className ?? ''}`}>
      <label htmlFor={id} className={props.hideLabel ? 'unseen' : undefined}>
        {props.label}
      </label>
      <span className="entry">
        <input
          ref={input}
          id={id}
          type="text"
          inputMode={props.inputMode ?? 'text'}
          value={text ?? shown}
          disabled={props.disabled}
          list={props.list}
          autoComplete="off"
          spellCheck={false}
          aria-invalid={problem !== null}
          aria-describedby={problem !== null || props.help ? `${id}-help` : undefined}
          onChange={(event) => setText(event.target.value)}
          onBlur={commit}
          onFocus={(event) => event.target.select()}
          onKeyDown={(event) => {
            if (event.key === 'Enter') commit();
            else if (event.key === 'Escape' && text !== null) {
              event.stopPropagation();
              setText(null);
              setProblem(null);
            }
          }}
        />
        {props.unit && <span className="unit">{props.unit}</span>}
      </span>
      {(problem !== null || props.help) && (
        <p
          id={`${id}-help`}
          className={problem === null ? 'help' : 'help bad'}
          role={problem ? 'alert' : undefined}
        >
          {problem ?? props.help}
        </p>
      )}
    </div>
  );
}

interface Common {
  readonly label: string;
  readonly help?: string;
  readonly disabled?: boolean;
  readonly hideLabel?: boolean;
}

/** Free text, trimmed. */
export function TextField(
  props: Common & {
    readonly value: string;
    readonly onCommit: (value: string) => string | void;
    readonly needed?: boolean;
  },
): ReactNode {
  return (
    <Entry
      {...props}
      show={(value) => value}
      read={(text) =>
        props.needed && text.trim() === ''
          ? { ok: false, reason: 'Give it a name.' }
          : { ok: true, value: text.trim() }
      }
    />
  );
}

/** A plain number within bounds; empty is null where `empty` is allowed. */
export function NumberField<T extends number | null>(
  props: Common & {
    readonly value: T;
    readonly min: number;
    readonly max: number;
    readonly unit?: string;
    readonly empty?: T extends null ? string : never;
    readonly whole?: boolean;
    readonly onCommit: (value: T) => string | void;
  },
): ReactNode {
  const { min, max, whole } = props;
  return (
    <Entry<T>
      {...props}
      inputMode="decimal"
      help={props.help ?? (props.value === null && props.empty ? props.empty : undefined)}
      show={(value) => (value === null ? '' : String(Math.round(value * 1e4) / 1e4))}
      read={(text) => {
        const bare = text.trim().replace(',', '.');
        if (bare === '' && props.empty !== undefined) return { ok: true, value: null as T };
        const value = Number(bare);
        if (bare === '' || !Number.isFinite(value)) return { ok: false, reason: 'Type a number.' };
        if (value < min || value > max) return { ok: false, reason: `From ${min} to ${max}.` };
        if (whole && !Number.isInteger(value)) return { ok: false, reason: 'Type a whole number.' };
        return { ok: true, value: value as T };
      }}
    />
  );
}

export interface Option<T extends string> {
  readonly value: T;
  readonly text: string;
}

/** One of a few; `none` adds a first choice that stands for null. */
export function SelectField<T extends string>(
  props: Common & {
    readonly value: T;
    readonly options: readonly Option<T>[];
    readonly onCommit: (value: T) => void;
  },
): ReactNode {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id} className={props.hideLabel ? 'unseen' : undefined}>
        {props.label}
      </label>
      <span className="entry">
        <select
          id={id}
          value={props.value}
          disabled={props.disabled}
          aria-describedby={props.help ? `${id}-help` : undefined}
          onChange={(event) => props.onCommit(event.target.value as T)}
        >
          {props.options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.text}
            </option>
          ))}
        </select>
      </span>
      {props.help && (
        <p id={`${id}-help`} className="help">
          {props.help}
        </p>
      )}
    </div>
  );
}

/** Yes or no. */
export function CheckField(
  props: Common & { readonly value: boolean; readonly onCommit: (value: boolean) => void },
): ReactNode {
  const id = useId();
  return (
    <div className="field check">
      <input
        id={id}
        type="checkbox"
        checked={props.value}
        disabled={props.disabled}
        onChange={(event) => props.onCommit(event.target.checked)}
      />
      <label htmlFor={id} className={props.hideLabel ? 'unseen' : undefined}>
        {props.label}
      </label>
      {props.help && <p className="help">{props.help}</p>}
    </div>
  );
}

/** A few choices side by side, one of them pressed. */
export function Choice<T extends string | number>(
  props: Common & {
    readonly value: T | null;
    readonly options: readonly { readonly value: T; readonly text: string; readonly title?: string }[];
    readonly onCommit: (value: T) => void;
  },
): ReactNode {
  const id = useId();
  return (
    <div className="field">
      <span className={props.hideLabel ? 'unseen' : 'label'} id={id}>
        {props.label}
      </span>
      <div className="choice" role="group" aria-labelledby={id}>
        {props.options.map((option) => (
          <button
            className="button"
            key={option.value}
            type="button"
            aria-pressed={option.value === props.value}
            title={option.title}
            disabled={props.disabled}
            onClick={() => props.onCommit(option.value)}
          >
            {option.text}
          </button>
        ))}
      </div>
      {props.help && <p className="help">{props.help}</p>}
    </div>
  );
}

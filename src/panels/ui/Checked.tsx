import { useSyncExternalStore, type ReactNode } from 'react';
import type { PlanDocument } from '../../engine/model/document.ts';
import { find } from '../../engine/model/tables.ts';
import type { CheckState } from '../../workers/checking.ts';
import type { PlanPart } from '../../workers/messages.ts';
import { useDoc, useProgram, useStore } from './hooks.ts';

/** Whether what was derived is of the plan as it is now. */
export function useCheck(): CheckState {
  const { checking } = useProgram();
  return useSyncExternalStore(
    (listener) => checking.subscribe(listener),
    () => checking.check(),
  );
}

/** A part of the plan as the person knows it. */
export function partName(doc: PlanDocument, part: PlanPart): string {
  const { kind, id } = part;
  if (kind === 'run') return `run ${find(doc, 'runs', id)?.label ?? id}`;
  if (kind === 'point') return `point ${find(doc, 'points', id)?.label ?? id}`;
  if (kind === 'circuit') return `circuit ${find(doc, 'circuits', id)?.label ?? id}`;
  if (kind === 'storey') return `storey ${find(doc, 'storeys', id)?.name ?? id}`;
  if (kind === 'tracing') return `tracing ${find(doc, 'tracings', id)?.name ?? id}`;
  return 'the face of a wall';
}

const STOPPED = {
  failed: 'The checks broke off',
  hung: 'The checks came to no end',
  'not-started': 'The part of the program that checks could not be started',
  asked: 'The checks were ended by you',
} as const;

/**
 * Says that the plan is being checked, how far that is, or that it has stopped and where. Nothing once it is through, or
 * while a quick check follows an edit: greying says that without moving the page about.
 */
function CheckLine(): ReactNode {
  const check = useCheck();
  const doc = useDoc();
  const { checking } = useProgram();
  if (check.state === 'done') return null;
  if (check.state === 'stopped') {
    return (
      <div className="check-line stopped" role="note">
        <p>
          <b>Not checked.</b> {STOPPED[check.why]}
          {check.part !== null && ` at ${partName(doc, check.part)}`}. What is shown is from before; your plan
          is kept.
        </p>
        <button className="button" type="button" onClick={() => checking.again()}>
          Check again
        </button>
      </div>
    );
  }
  const { progress, again, long } = check;
  if (long === 'no' && again === null && checking.get().rev >= 0) return null;
  return (
    <div className="check-line">
      <p>
        Checking…
        {progress !== null &&
          long !== 'no' &&
          ` ${Math.floor((100 * progress.done) / Math.max(1, progress.total))} %, at ${partName(doc, progress.part)}.`}
        {again !== null &&
          ` The check ${again === 'anew' ? 'broke off' : `stopped at ${partName(doc, again)}`} and was begun anew.`}
      </p>
      {long === 'offer' && (
        <button className="button" type="button" onClick={() => checking.without()}>
          Go on without it
        </button>
      )}
    </div>
  );
}

/** In the heading of what was found: one word, read out too, while it is of an older plan. */
export function CheckWord(): ReactNode {
  const { state } = useCheck();
  return (
    <span className="check-word" role="status">
      {{ done: '', checking: ' checking…', stopped: ' not checked' }[state]}
    </span>
  );
}

/**
 * What was derived from the plan, greyed while it is of an older revision, with a line that says so (left out when
 * `plain`). `sums`: it hangs on the sums over the whole plan, which come last. Until there is any answer at all, only the
 * line is shown.
 */
export function Checked(props: {
  readonly sums?: boolean;
  readonly plain?: boolean;
  readonly children: ReactNode;
}): ReactNode {
  const check = useCheck();
  const { checking } = useProgram();
  const rev = useStore((state) => state.rev);
  const of = useSyncExternalStore(
    (listener) => checking.subscribe(listener),
    () => (props.sums ? checking.get().summed : checking.get().rev),
  );
  const old = of !== rev;
  return (
    <>
      {!props.plain && <CheckLine />}
      {check.state === 'done' && of < 0 && !props.plain && (
        <div className="check-line">
          <p>Adding up…</p>
        </div>
      )}
      {of >= 0 && (
        <div className={old ? 'checked old' : 'checked'} data-revision={of} aria-busy={old}>
          {props.children}
        </div>
      )}
    </>
  );
}

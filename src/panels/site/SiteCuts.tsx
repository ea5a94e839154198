import { useMemo, useState, type ReactNode } from 'react';
import { setAsLaid, setProgress } from '../../document/commands/runs.ts';
import type { RunProgress } from '../../engine/model/document.ts';
import { cutList, type Cut } from '../../engine/site/cutList.ts';
import { metres } from '../ui/lengths.tsx';
import { runName } from '../ui/names.ts';
import { perform, pick } from '../../app/program.ts';
import { useDerived, useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { showRun } from '../../app/show.ts';
import { Unfinished } from '../ui/toCut.tsx';

const STEPS: readonly { readonly step: keyof RunProgress; readonly name: string }[] = [
  { step: 'pulled', name: 'Pulled' },
  { step: 'labelled', name: 'Labelled' },
  { step: 'photographed', name: 'Photo' },
  { step: 'tested', name: 'Tested' },
  { step: 'covered', name: 'Covered' },
];

/** Every run in pulling order: what to cut from which drum, and what is done of it. */
export function CutList(): ReactNode {
  const doc = useDoc();
  const derived = useDerived();
  const cuts = useMemo(() => cutList(doc, derived), [doc, derived]);
  const pulled = cuts.filter((cut) => cut.run.progress.pulled !== null).length;
  const refused = derived.takeOff.scale.state === 'refused';
  return (
    <details open>
      <summary>
        <h3>Cut list, in pulling order</h3>
        <span className="count">
          {pulled} / {cuts.length}
        </span>
      </summary>
      {refused && <p className="help bad">Metres are refused until the drawing has a known length.</p>}
      <ol className="cuts">
        {cuts.map((cut) => (
          <CutRow key={cut.run.id} cut={cut} />
        ))}
      </ol>
    </details>
  );
}

function CutRow(props: { readonly cut: Cut }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const selected = useSession((state) =>
    state.selection.some((ref) => ref.table === 'runs' && ref.id === props.cut.run.id),
  );
  const { run, cable, length, whole, drum } = props.cut;
  return (
    <li className={selected ? 'on' : undefined}>
      <div className="cut-head">
        <button
          type="button"
          className="link"
          onClick={() => {
            pick(program, 'runs', run.id);
            showRun(program, run.id);
          }}
        >
          {runName(doc, run)}
        </button>
        <span className="num">
          <b>{length === null ? 'not known' : metres(length)}</b>
          {length !== null && <Unfinished length={{ whole }} />}
        </span>
      </div>
      <p className="quiet">
        {cable}
        {drum &&
          `, from ${drum.owned ? 'your' : 'drum'} ${drum.number} (${drum.length} m), ${metres(drum.left)} left after`}
      </p>
      <div className="ticks">
        {STEPS.map(({ step, name }) => {
          const date = run.progress[step];
          return (
            <label key={step} title={date ? `${name} ${date}` : undefined}>
              <input
                type="checkbox"
                checked={date !== null}
                onChange={(event) =>
                  perform(program, setProgress([run.id], step, event.target.checked ? program.today() : null))
                }
              />
              <span>{name}</span>
              {date !== null && (
                <input
                  type="date"
                  aria-label={`${name} on`}
                  value={date}
                  onChange={(event) => {
                    if (event.target.value !== '')
                      perform(program, setProgress([run.id], step, event.target.value));
                  }}
                />
              )}
            </label>
          );
        })}
        <label>
          <input
            type="checkbox"
            checked={run.asLaid.state === 'as-drawn'}
            onChange={(event) =>
              perform(
                program,
                setAsLaid([run.id], {
                  ...run.asLaid,
                  state: event.target.checked ? 'as-drawn' : 'not-recorded',
                }),
              )
            }
          />
          <span>As drawn</span>
        </label>
        <OtherwiseLaid key={run.asLaid.state} cut={props.cut} />
      </div>
    </li>
  );
}

/** How it was laid, where it was not laid as drawn. */
function OtherwiseLaid(props: { readonly cut: Cut }): ReactNode {
  const program = useProgram();
  const { run } = props.cut;
  const [open, setOpen] = useState(false);
  const [note, setNote] = useState(run.asLaid.note);
  if (run.asLaid.state === 'as-drawn') return null;
  if (!open && run.asLaid.state !== 'differently')
    return (
      <button type="button" className="link" onClick={() => setOpen(true)}>
        Differently…
      </button>
    );
  const keep = (): void => {
    const outcome = perform(program, setAsLaid([run.id], { state: 'differently', note: note.trim() }));
    if (outcome.ok) setOpen(false);
  };
  return (
    <div className="field laid">
      <label htmlFor={`laid-${run.id}`}>How it was laid</label>
      <span className="entry">
        <input
          id={`laid-${run.id}`}
          value={note}
          maxLength={500}
          onChange={(event) => setNote(event.target.value)}
          onBlur={() => {
            if (note.trim() !== '' && note.trim() !== run.asLaid.note) keep();
          }}
        />
      </span>
    </div>
  );
}

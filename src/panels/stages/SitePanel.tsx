import { useMemo, useState, type ReactNode } from 'react';
import { setAsLaid, setProgress } from '../../document/commands/runs.ts';
import { coverAnswers } from '../../engine/site/cover.ts';
import { cutList, type Cut } from '../../engine/site/cutList.ts';
import { settingOut } from '../../engine/site/settingOut.ts';
import type { RunProgress } from '../../engine/model/document.ts';
import { Caution, First } from '../First.tsx';
import { acceptances } from '../findings.ts';
import { metres, showLength } from '../lengths.tsx';
import { faceName } from '../faceName.ts';
import { runName } from '../names.ts';
import { usePrefs } from '../prefs.ts';
import { perform, pick, useDerived, useDoc, useProgram, useSession } from '../program.ts';
import { showFace, showPoint, showRun } from '../show.ts';

const STEPS: readonly { readonly step: keyof RunProgress; readonly name: string }[] = [
  { step: 'pulled', name: 'Pulled' },
  { step: 'labelled', name: 'Labelled' },
  { step: 'photographed', name: 'Photo' },
  { step: 'tested', name: 'Tested' },
  { step: 'covered', name: 'Covered' },
];

/** On site: what to cut and tick off, what to mark on each wall, and whether a wall may be covered. */
export function SitePanel(): ReactNode {
  const doc = useDoc();
  return (
    <>
      {doc.runs.order.length === 0 && doc.points.order.length === 0 && <First />}
      <Caution>
        Work dead, and prove dead at the point of work. “No cable recorded” is not “no cable”. Below 50 mm the
        rule is a permitted zone and 30 mA protection, not either.
      </Caution>
      {doc.runs.order.length > 0 && <CutList />}
      <MarkingOut />
      <CoverList />
      <Caution>
        Hole and notch limits are for solid timber joists only; engineered members need the maker’s chart. Old
        coatings and boards may hold asbestos: stop and check first. Chasing masonry makes silica dust.
      </Caution>
      <p className="help">
        A plan is not a design or a certificate. Whether the work is notifiable, and who may certify it,
        differs by nation: settle it before starting. Checked against{' '}
        {doc.job.edition === 'bs7671-2018-a4' ? 'BS 7671:2018 + A4:2026' : 'BS 7671:2018 + A2:2022 + A3:2024'}
        .
      </p>
    </>
  );
}

function CutList(): ReactNode {
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
  const { run, cable, length, drum } = props.cut;
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
        <b className="num">{length === null ? 'not known' : metres(length)}</b>
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

/** Box centres of each wall from its left-hand end and from the floor. */
function MarkingOut(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const derived = useDerived();
  const { units } = usePrefs();
  const storey = useSession((state) => state.storey);
  const faces = useMemo(() => settingOut(doc, derived, storey), [doc, derived, storey]);
  if (faces.length === 0) return null;
  return (
    <details>
      <summary>
        <h3>Setting out, wall by wall</h3>
        <span className="count">{faces.length}</span>
      </summary>
      <p className="help">
        Centres of boxes and fittings on the finished surface: from the left-hand end of the wall as you face
        it, and above the finished floor. Allow for boards and plaster still to come.
      </p>
      {faces.map(({ face, marks }) => (
        <section key={face.id} className="markout">
          <h4>
            <button type="button" className="link" onClick={() => showFace(program, face.id, null)}>
              {faceName(derived, face.id)}
            </button>{' '}
            <span className="quiet">{showLength(Math.round(face.length), units)} long</span>
          </h4>
          <div className="scroll">
            <table className="table">
              <thead>
                <tr>
                  <th scope="col">No.</th>
                  <th scope="col">What</th>
                  <th scope="col" className="num">
                    From left
                  </th>
                  <th scope="col" className="num">
                    From floor
                  </th>
                  <th scope="col">Box</th>
                </tr>
              </thead>
              <tbody>
                {marks.map((mark) => (
                  <tr key={mark.point.id}>
                    <th scope="row">
                      <button
                        type="button"
                        className="link"
                        onClick={() => {
                          pick(program, 'points', mark.point.id);
                          showPoint(program, mark.point);
                        }}
                      >
                        {mark.point.label}
                      </button>
                    </th>
                    <td>{mark.what}</td>
                    <td className="num">{showLength(Math.round(mark.fromLeft), units)}</td>
                    <td className="num">{showLength(Math.round(mark.height), units)}</td>
                    <td>{mark.box ? `${mark.box.depth} mm` : '–'}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </section>
      ))}
    </details>
  );
}

/** May I cover this wall? Only what is recorded can be answered for. */
function CoverList(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const derived = useDerived();
  const answers = useMemo(() => coverAnswers(doc, derived, new Set(acceptances(doc).keys())), [doc, derived]);
  if (answers.length === 0) return null;
  const ready = answers.filter((each) => each.missing.length === 0).length;
  return (
    <details open>
      <summary>
        <h3>May I cover this wall?</h3>
        <span className="count">
          {ready} / {answers.length}
        </span>
      </summary>
      <ul className="covers">
        {answers.map((each) => (
          <li key={each.face} className={each.missing.length === 0 ? 'ready' : 'waiting'}>
            <button type="button" className="link" onClick={() => showFace(program, each.face, null)}>
              {faceName(derived, each.face)}
            </button>{' '}
            <span className="quiet">
              {each.runs.length} {each.runs.length === 1 ? 'cable' : 'cables'}
            </span>
            {each.missing.length === 0 ? (
              <p>
                <b>{each.covered ? 'Covered.' : 'Nothing recorded stands in the way.'}</b> An inspection that
                is due comes first.
              </p>
            ) : (
              <ul>
                {each.missing.map((text) => (
                  <li key={text}>{text}</li>
                ))}
              </ul>
            )}
          </li>
        ))}
      </ul>
    </details>
  );
}

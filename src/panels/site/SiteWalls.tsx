import { useMemo, type ReactNode } from 'react';
import { coverAnswers, type CoverAnswer, type Hindrance } from '../../engine/site/cover.ts';
import { settingOut } from '../../engine/site/settingOut.ts';
import { faceName } from '../ui/faceName.ts';
import { acceptances } from '../findings/findings.ts';
import { showLength } from '../ui/lengths.tsx';
import { usePrefs } from '../ui/usePrefs.ts';
import { pick, type Program } from '../../app/program.ts';
import { useDerived, useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { showFace, showPoint, showRun } from '../../app/show.ts';

/** Box centres of each wall from its left-hand end and from the floor. */
export function MarkingOut(): ReactNode {
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

/** Hindrances shown before the rest is folded away. */
const SHOWN = 5;

function InTheWay({ all }: { all: readonly Hindrance[] }): ReactNode {
  const line = (each: Hindrance): ReactNode => <li key={`${each.kind} ${each.text}`}>{each.text}</li>;
  const rest = all.slice(SHOWN);
  return (
    <>
      <ul>{all.slice(0, SHOWN).map(line)}</ul>
      {rest.length > 0 && (
        <details>
          <summary>{rest.length} more</summary>
          <ul>{rest.map(line)}</ul>
        </details>
      )}
    </>
  );
}

/** Brings the wall, or the room of the ceiling or floor, into view. */
function showSurface(program: Program, { surface, runs }: CoverAnswer): void {
  const fabric = program.derived.get().derived.fabrics.get(surface.storey);
  const face = surface.face ?? fabric?.rooms.get(surface.room ?? '')?.faces[0];
  if (face !== undefined) showFace(program, face, null);
  else if (runs[0] !== undefined) showRun(program, runs[0].id);
}

const upper = (name: string): string => name.charAt(0).toUpperCase() + name.slice(1);

/** May I cover this? Only what is recorded can be answered for. */
export function CoverList(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const derived = useDerived();
  const answers = useMemo(() => coverAnswers(doc, derived, new Set(acceptances(doc).keys())), [doc, derived]);
  const told = answers.filter((each) => each.runs.length > 0 || each.inTheWay.length > 0);
  if (told.length === 0) return null;
  const ready = told.filter((each) => each.inTheWay.length === 0).length;
  const bare = answers.length - told.length;
  return (
    <details open>
      <summary>
        <h3>May I cover this?</h3>
        <span className="count">
          {ready} / {told.length}
        </span>
      </summary>
      <ul className="covers">
        {told.map((each) => (
          <li key={each.surface.key} className={each.inTheWay.length === 0 ? 'ready' : 'waiting'}>
            <button type="button" className="link" onClick={() => showSurface(program, each)}>
              {upper(each.name)}
            </button>{' '}
            <span className="quiet">
              {each.runs.length} {each.runs.length === 1 ? 'cable' : 'cables'}
            </span>
            {each.inTheWay.length === 0 ? (
              <p>
                <b>{each.covered ? 'Covered.' : 'Nothing recorded stands in the way.'}</b> An inspection that
                is due comes first.
              </p>
            ) : (
              <InTheWay all={each.inTheWay} />
            )}
          </li>
        ))}
      </ul>
      {bare > 0 && (
        <p className="help">
          No cable is recorded on, through or behind{' '}
          {bare === 1 ? 'one other surface' : `${bare} other surfaces`}.
        </p>
      )}
    </details>
  );
}

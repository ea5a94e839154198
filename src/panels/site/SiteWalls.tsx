import { useMemo, type ReactNode } from 'react';
import { coverAnswers } from '../../engine/site/cover.ts';
import { settingOut } from '../../engine/site/settingOut.ts';
import { faceName } from '../ui/faceName.ts';
import { acceptances } from '../findings/findings.ts';
import { showLength } from '../ui/lengths.tsx';
import { usePrefs } from '../ui/usePrefs.ts';
import { pick } from '../../app/program.ts';
import { useDerived, useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { showFace, showPoint } from '../../app/show.ts';

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

/** May I cover this wall? Only what is recorded can be answered for. */
export function CoverList(): ReactNode {
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

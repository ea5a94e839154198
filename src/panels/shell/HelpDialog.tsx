import type { ReactNode } from 'react';
import { APPLE, KEYS } from '../ui/keys.ts';
import { Dialog } from '../ui/Dialog.tsx';
import { STAGES } from '../../app/stageInfo.ts';

const SHORTCUTS: readonly (readonly [string, string])[] = [
  [KEYS.undo, 'Undo'],
  [APPLE ? KEYS.redo : `${KEYS.redo} or Ctrl+Y`, 'Redo'],
  [KEYS.open, 'Open a file'],
  [KEYS.save, 'Save a copy'],
  ['Delete', 'Remove what is selected'],
  ['Escape', 'Give up the gesture, then the tool, then the selection'],
  ['Enter', 'Click at the cursor, end a chain, pick from the list'],
  ['Digits, then Enter', 'Type a length while drawing'],
  ['Arrows', 'Walk through what is drawn, nudge what is selected, or move the drawing cursor'],
  ['Shift + arrows', 'The same in other steps: the line under the drawing says which'],
  ['+ and −', 'Zoom'],
  ['0', 'Show everything'],
  ['1 to 7', 'Go to a stage, while Select is in hand'],
  ['F6, Shift+F6', 'Next and previous region of the page'],
  ['?', 'This page'],
];

/** Keys that mean something only while a run is drawn: see src/tools/run/README.md. */
const RUN_KEYS: readonly (readonly [string, string])[] = [
  ['Alt, held', 'A slanting leg, off the snapping: it is drawn, and flagged'],
  ['F', 'Turn the other way round the corner'],
  ['T', 'Through the wall to its other face'],
  ['Backspace', 'One click back'],
  ['Digits, then Enter', 'Make the leg so long, the way you point'],
  ['Enter', 'End here, on no point; it is joined to one later'],
  ['Escape', 'Give the whole run up'],
];

/** Shortcuts, the order of the work, what the answers mean, and the cautions. */
export function HelpDialog(props: { readonly onClose: () => void }): ReactNode {
  return (
    <Dialog title="Help" onClose={props.onClose} wide>
      <div className="help-columns">
        <section>
          <h3>The order of the work</h3>
          <ol className="numbered">
            {STAGES.map((info) => (
              <li key={info.stage}>
                <b>{info.name}.</b> {info.first}
              </li>
            ))}
          </ol>
          <h3>Lengths</h3>
          <p>
            Type 3200, 3.2 m or 10′ 6″ anywhere a length is asked for. A bare number is in the unit the field
            shows.
          </p>
          <h3>The four answers</h3>
          <dl className="answers-help">
            <dt className="inside">Inside</dt>
            <dd>Within a permitted zone, or deep enough, by the edition the plan is checked against.</dd>
            <dt className="outside">Outside</dt>
            <dd>Outside every permitted zone, by so many millimetres.</dd>
            <dt className="disputed">Disputed</dt>
            <dd>Practitioners disagree: ask whoever will certify the work.</dd>
            <dt className="not-checked">Not checked</dt>
            <dd>No rule here decides it. Never a pass.</dd>
          </dl>
        </section>
        <section>
          <h3>Keys</h3>
          <KeyTable keys={SHORTCUTS} />
          <h3>While drawing a run</h3>
          <KeyTable keys={RUN_KEYS} />
          <h3>Cautions</h3>
          <ul className="bullets">
            <li>A plan is not a design or a certificate.</li>
            <li>
              Notifiable work, and who may certify it, differ between nations. Settle that before starting,
              with your local authority or a licensed electrician.
            </li>
            <li>Work dead, and prove dead.</li>
            <li>“No cable recorded” is not “no cable”. Never take the record as leave to drill.</li>
            <li>Joist rules are for solid timber; engineered members need the maker’s chart.</li>
            <li>Old coatings may hold asbestos. Chasing makes silica dust.</li>
            <li>Below 50 mm the rule is a zone and 30 mA protection, not either.</li>
          </ul>
          <h3>Where your plan is kept</h3>
          <p>
            In this browser, on this device, and nowhere else. Save a copy to keep one outside of it. The
            program works without a connection once it has been opened.
          </p>
        </section>
      </div>
    </Dialog>
  );
}

function KeyTable(props: { readonly keys: readonly (readonly [string, string])[] }): ReactNode {
  return (
    <table className="table">
      <tbody>
        {props.keys.map(([keys, does]) => (
          <tr key={keys}>
            <th scope="row">
              <kbd>{keys}</kbd>
            </th>
            <td>{does}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

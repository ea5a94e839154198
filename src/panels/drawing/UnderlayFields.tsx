import { useState, type ReactNode } from 'react';
import { editUnderlay, setKnownLengths, turnUnderlay } from '../../document/commands/underlays.ts';
import type { Underlay } from '../../engine/model/document.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import { fitScale, knownLengthsProblem } from '../../engine/takeoff/calibration.ts';
import type { Command } from '../../document/types.ts';
import { CheckField, NumberField } from '../ui/fields.tsx';
import { LengthField } from '../ui/lengths.tsx';
import { perform } from '../../app/program.ts';
import { useProgram } from '../ui/hooks.ts';

const DEGREE = Math.PI / 180;

/** A picture under the plan: how it lies, how it looks, and what its scale rests on. */
export function UnderlayFields(props: { readonly underlay: Underlay }): ReactNode {
  const program = useProgram();
  const { underlay } = props;
  const run = (command: Command): string | void => {
    const outcome = perform(program, command);
    if (!outcome.ok) return outcome.reason;
  };
  const set = (fields: Parameters<typeof editUnderlay>[1]): string | void =>
    run(editUnderlay(underlay.id, fields));
  return (
    <>
      <Strength underlay={underlay} onCommit={(opacity) => void set({ opacity })} />
      <CheckField label="Shown" value={underlay.visible} onCommit={(visible) => void set({ visible })} />
      <CheckField
        label="Locked in place"
        value={underlay.locked}
        onCommit={(locked) => void set({ locked })}
      />
      <NumberField
        label="Turned clockwise"
        unit="°"
        value={Math.round((underlay.rotation / DEGREE) * 1000) / 1000}
        min={-360}
        max={360}
        disabled={underlay.locked}
        onCommit={(degrees) => set({ rotation: degrees * DEGREE })}
      />
      <div className="row">
        <button
          type="button"
          disabled={underlay.locked}
          onClick={() => void run(turnUnderlay(underlay.id, 90 * DEGREE, middleOf(underlay)))}
        >
          Quarter turn
        </button>
        <button
          type="button"
          onClick={() =>
            program.session.set({
              tool: 'picture-straighten',
              selection: [{ table: 'underlays', id: underlay.id, part: null }],
            })
          }
        >
          Straighten by a line
        </button>
      </div>
      <KnownLengths underlay={underlay} run={run} />
    </>
  );
}

/** Middle of the picture on the plan, mm: a quarter turn about it keeps the picture where it is. */
function middleOf(underlay: Underlay): PlanPoint {
  const across = (underlay.width * underlay.mmPerPixel) / 2;
  const down = (underlay.height * underlay.mmPerPixel) / 2;
  const [c, s] = [Math.cos(underlay.rotation), Math.sin(underlay.rotation)];
  return { x: underlay.x + across * c - down * s, y: underlay.y + across * s + down * c };
}

/** One step of undo for a whole slide: the change is made when the handle is let go. */
function Strength(props: {
  readonly underlay: Underlay;
  readonly onCommit: (opacity: number) => void;
}): ReactNode {
  const { underlay } = props;
  const now = Math.round(underlay.opacity * 100);
  const [at, setAt] = useState<number | null>(null);
  const commit = (): void => {
    if (at !== null && at !== now) props.onCommit(at / 100);
    setAt(null);
  };
  return (
    <div className="field">
      <label htmlFor={`opacity-${underlay.id}`}>Strength of the picture, {at ?? now} %</label>
      <input
        id={`opacity-${underlay.id}`}
        type="range"
        min="5"
        max="100"
        step="5"
        value={at ?? now}
        onChange={(event) => setAt(Number(event.target.value))}
        onPointerUp={commit}
        onKeyUp={commit}
        onBlur={commit}
      />
    </div>
  );
}

function KnownLengths(props: {
  readonly underlay: Underlay;
  readonly run: (command: Command) => string | void;
}): ReactNode {
  const program = useProgram();
  const { underlay, run } = props;
  const { known } = underlay;
  const fit = fitScale(known);
  const problem = knownLengthsProblem(known);
  return (
    <fieldset>
      <legend>Scale</legend>
      {known.length === 0 ? (
        <p className="help bad">
          No length is known on this picture yet, so metres are refused rather than guessed. Mark two known
          lengths, one across and one along.
        </p>
      ) : (
        <ol className="known">
          {known.map((each, index) => (
            <li key={index}>
              <LengthField
                label={`Known length ${index + 1}`}
                value={each.length}
                min={1}
                onCommit={(length) =>
                  run(setKnownLengths(underlay.id, known.with(index, { ...each, length })))
                }
              />
              <button
                type="button"
                className="plain"
                aria-label={`Take known length ${index + 1} out`}
                onClick={() => void run(setKnownLengths(underlay.id, known.toSpliced(index, 1)))}
              >
                ✕
              </button>
            </li>
          ))}
        </ol>
      )}
      {known.length > 0 && problem !== null && <p className="help bad">{problem}</p>}
      {fit?.single && (
        <p className="help warn">
          Only one length: nothing checks it. Mark a second, at about a right angle to the first.
        </p>
      )}
      {fit && !fit.single && !fit.crossed && (
        <p className="help warn">
          All lengths lie the same way: a picture stretched the other way would not show.
        </p>
      )}
      {fit && (
        <dl className="figures">
          <dt>Scale</dt>
          <dd>{fit.mmPerPixel.toPrecision(4)} mm per pixel</dd>
          {!fit.single && (
            <>
              <dt>Lengths disagree by</dt>
              <dd>{(fit.residual * 100).toFixed(2)} %</dd>
            </>
          )}
          <dt>So each metre is</dt>
          <dd>± {fit.errorPerMetre.toFixed(1)} mm</dd>
        </dl>
      )}
      <button
        type="button"
        onClick={() =>
          program.session.set({
            tool: 'picture-scale',
            selection: [{ table: 'underlays', id: underlay.id, part: null }],
          })
        }
      >
        Mark a known length
      </button>
    </fieldset>
  );
}

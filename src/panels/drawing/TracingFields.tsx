import { useState, type ReactNode } from 'react';
import { editTracing, setKnownLengths, turnTracing } from '../../document/commands/tracings.ts';
import { tracingToPlan } from '../../engine/geometry/tracing.ts';
import { liesOnStorey, type StoreyTracing, type Tracing } from '../../engine/model/tracing.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import { grainOfSource, knownLengthsProblem, scaleOfTracing } from '../../engine/takeoff/calibration.ts';
import type { Command } from '../../document/types.ts';
import { CheckField, NumberField } from '../ui/fields.tsx';
import { LengthField } from '../ui/lengths.tsx';
import { perform } from '../../app/program.ts';
import { useProgram } from '../ui/hooks.ts';
import { SheetSays } from './SheetSays.tsx';
import { FindWalls } from './FindWalls.tsx';
import { PictureActions } from './PictureActions.tsx';
import './drawing.css';

/** What a tracing is measured in. */
const UNIT_WORDS = { picture: 'pixel', page: 'point of the page', lines: 'unit of the drawing' } as const;
const DEGREE = Math.PI / 180;

/** A tracing under the plan: how it lies, how it looks, and what its scale rests on. */
export function TracingFields(props: { readonly tracing: Tracing }): ReactNode {
  const program = useProgram();
  const { tracing } = props;
  const run = (command: Command): string | void => {
    const outcome = perform(program, command);
    if (!outcome.ok) return outcome.reason;
  };
  const set = (fields: Parameters<typeof editTracing>[1]): string | void =>
    run(editTracing(tracing.id, fields));
  return (
    <>
      <Strength tracing={tracing} onCommit={(opacity) => void set({ opacity })} />
      <CheckField label="Shown" value={tracing.visible} onCommit={(visible) => void set({ visible })} />
      <CheckField
        label="Locked in place"
        value={tracing.locked}
        onCommit={(locked) => void set({ locked })}
      />
      {liesOnStorey(tracing) && <Turning tracing={tracing} run={run} />}
      {liesOnStorey(tracing) && tracing.source.kind === 'picture' && <PictureActions tracing={tracing} />}
      <KnownLengths tracing={tracing} run={run} />
      {liesOnStorey(tracing) && tracing.source.kind !== 'picture' && <FindWalls tracing={tracing} />}
    </>
  );
}

/** How a tracing under a storey is turned. */
function Turning(props: {
  readonly tracing: StoreyTracing;
  readonly run: (command: Command) => string | void;
}): ReactNode {
  const program = useProgram();
  const { tracing, run } = props;
  return (
    <>
      <NumberField
        label="Turned clockwise"
        unit="°"
        value={Math.round((tracing.lies.rotation / DEGREE) * 1000) / 1000}
        min={-360}
        max={360}
        disabled={tracing.locked}
        onCommit={(degrees) => run(editTracing(tracing.id, { rotation: degrees * DEGREE }))}
      />
      <div className="row">
        <button
          className="button"
          type="button"
          disabled={tracing.locked}
          onClick={() => void run(turnTracing(tracing.id, 90 * DEGREE, middleOf(tracing)))}
        >
          Quarter turn
        </button>
        <button
          className="button"
          type="button"
          onClick={() =>
            program.session.set({
              tool: 'picture-straighten',
              selection: [{ table: 'tracings', id: tracing.id, part: null }],
            })
          }
        >
          Straighten by a line
        </button>
      </div>
    </>
  );
}

/** Middle of the tracing on the plan, mm: a quarter turn about it keeps it where it is. */
function middleOf(tracing: StoreyTracing): PlanPoint {
  return tracingToPlan(tracing, { x: tracing.source.width / 2, y: tracing.source.height / 2 });
}

/** One step of undo for a whole slide: the change is made when the handle is let go. */
function Strength(props: {
  readonly tracing: Tracing;
  readonly onCommit: (opacity: number) => void;
}): ReactNode {
  const { tracing } = props;
  const now = Math.round(tracing.opacity * 100);
  const [at, setAt] = useState<number | null>(null);
  const commit = (): void => {
    if (at !== null && at !== now) props.onCommit(at / 100);
    setAt(null);
  };
  return (
    <div className="field">
      <label htmlFor={`opacity-${tracing.id}`}>Strength of the tracing, {at ?? now} %</label>
      <input
        id={`opacity-${tracing.id}`}
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
  readonly tracing: Tracing;
  readonly run: (command: Command) => string | void;
}): ReactNode {
  const program = useProgram();
  const { tracing, run } = props;
  const { known } = tracing.scale;
  const fit = scaleOfTracing(tracing);
  const problem = knownLengthsProblem(known, grainOfSource(tracing.source));
  return (
    <fieldset>
      <legend>Scale</legend>
      {known.length === 0 ? (
        <p className="help bad">
          No length is known on this tracing yet, so metres are refused rather than guessed. Mark two known
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
                  run(setKnownLengths(tracing.id, known.with(index, { ...each, length })))
                }
              />
              <button
                type="button"
                className="button plain"
                aria-label={`Take known length ${index + 1} out`}
                onClick={() => void run(setKnownLengths(tracing.id, known.toSpliced(index, 1)))}
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
          All lengths lie the same way: a tracing stretched the other way would not show.
        </p>
      )}
      {fit && (
        <dl className="figures">
          <dt>Scale</dt>
          <dd>
            {fit.mmPerPixel.toPrecision(4)} mm per {UNIT_WORDS[tracing.source.kind]}
          </dd>
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
      {tracing.source.kind === 'page' && (
        <SheetSays source={tracing.source} measured={fit?.mmPerPixel ?? null} />
      )}
      <button
        className="button"
        type="button"
        onClick={() =>
          program.session.set({
            tool: 'picture-scale',
            selection: [{ table: 'tracings', id: tracing.id, part: null }],
          })
        }
      >
        Mark a known length
      </button>
    </fieldset>
  );
}

import type { ReactNode } from 'react';
import { setControls } from '../../document/commands/circuits.ts';
import { editPoints } from '../../document/commands/points.ts';
import type { Gangs, Id, PlateSize, Point, PointKind } from '../../engine/model/document.ts';
import { plateGuessed, plateOf, POINT_KINDS } from '../../engine/model/pointKinds.ts';
import { rows } from '../../engine/model/tables.ts';
import { CheckField, Choice } from '../ui/fields.tsx';
import { LengthField, showLength } from '../ui/lengths.tsx';
import { pointName } from '../ui/names.ts';
import { usePrefs } from '../ui/usePrefs.ts';
import { perform } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';

const WORDS = ['One', 'Two', 'Three', 'Four', 'Five', 'Six'] as const;

/** How many gangs an accessory has, of as many as its kind comes with; nothing to choose where that is one. */
export function GangChoice(props: {
  readonly kind: PointKind;
  readonly gangs: Gangs;
  readonly onCommit: (gangs: Gangs) => void;
}): ReactNode {
  const { mostGangs } = POINT_KINDS[props.kind];
  if (mostGangs === 1) return null;
  return (
    <Choice
      label="Gangs"
      value={props.gangs}
      options={WORDS.slice(0, mostGangs).map((text, i) => ({ value: (i + 1) as Gangs, text }))}
      onCommit={props.onCommit}
    />
  );
}

/** Gangs, and the plate's own size. */
export function PlateFields(props: { readonly point: Point }): ReactNode {
  const program = useProgram();
  const { units } = usePrefs();
  const { point } = props;
  const edit = (fields: Parameters<typeof editPoints>[1]): string | void => {
    const outcome = perform(program, editPoints([point.id], fields));
    if (!outcome.ok) return outcome.reason;
  };
  const usual = plateOf({ kind: point.kind, gangs: point.gangs });
  const size = plateOf(point);
  return (
    <>
      <GangChoice kind={point.kind} gangs={point.gangs} onCommit={(gangs) => void edit({ gangs })} />
      {size && usual && point.place.on === 'face' && (
        <>
          <LengthField<number | null>
            label="Plate width"
            value={point.plate?.width ?? null}
            min={1}
            max={2000}
            empty={`Taken as ${showLength(usual.width, units)}`}
            onCommit={(width) => edit({ plate: withSide(size, point.plate, { width }) })}
          />
          <LengthField<number | null>
            label="Plate height"
            value={point.plate?.height ?? null}
            min={1}
            max={2000}
            empty={`Taken as ${showLength(usual.height, units)}`}
            onCommit={(height) => edit({ plate: withSide(size, point.plate, { height }) })}
          />
          {plateGuessed(point) && (
            <p className="help warn">
              Makers’ sizes differ: until you type its size, zones level and plumb with it are disputed.
            </p>
          )}
        </>
      )}
    </>
  );
}

/** The typed plate with one side changed: emptied, it is the usual size again. */
function withSide(
  size: PlateSize,
  typed: PlateSize | null,
  change: { readonly width: number | null } | { readonly height: number | null },
): PlateSize | null {
  const next = { ...(typed ?? size), ...change };
  return next.width === null || next.height === null ? null : { width: next.width, height: next.height };
}

/** Which lights and fans each gang of a switch works. Without one its cables cannot be worked out. */
export function Controls(props: { readonly point: Point }): ReactNode {
  const doc = useDoc();
  const { point } = props;
  const workable = rows(doc.points).filter(
    (each) => each.id !== point.id && (POINT_KINDS[each.kind].isLight || each.kind === 'extractor'),
  );
  if (workable.length === 0) return <p className="help">Place a light for it to switch.</p>;
  return Array.from({ length: point.gangs }, (_, gang) => (
    <GangControls key={gang} point={point} gang={gang} workable={workable} />
  ));
}

function GangControls(props: {
  readonly point: Point;
  readonly gang: number;
  readonly workable: readonly Point[];
}): ReactNode {
  const program = useProgram();
  const { point, gang, workable } = props;
  const works: readonly Id[] = point.controls[gang] ?? [];
  return (
    <fieldset>
      <legend>
        {point.gangs === 1 ? 'Switches these lights' : `Gang ${gang + 1} switches these lights`}
      </legend>
      {works.length === 0 && (
        <p className="help warn">None ticked: what its cables must carry is not known.</p>
      )}
      {workable.map((each) => (
        <CheckField
          key={each.id}
          label={pointName(each)}
          value={works.includes(each.id)}
          onCommit={(on) =>
            perform(
              program,
              setControls(point.id, gang, on ? [...works, each.id] : works.filter((id) => id !== each.id)),
            )
          }
        />
      ))}
    </fieldset>
  );
}

import type { ReactNode } from 'react';
import { assignPoints } from '../../document/commands/circuits.ts';
import { editPoints, movePoint } from '../../document/commands/points.ts';
import { takesLoad } from '../../engine/electrical/loads.ts';
import type { LoadKind, Place, Point, PointKind } from '../../engine/model/document.ts';
import { boxGangs, POINT_KIND_NAMES, POINT_KINDS } from '../../engine/model/pointKinds.ts';
import { rows } from '../../engine/model/tables.ts';
import { CheckField, NumberField, SelectField, TextField } from '../ui/fields.tsx';
import { LengthField } from '../ui/lengths.tsx';
import { alongFromLeft, fromLeft } from '../../app/facePlace.ts';
import { NONE, circuitOptions, orNull } from '../ui/options.ts';
import { perform } from '../../app/program.ts';
import { useDerived, useDoc, useProgram } from '../ui/hooks.ts';
import { Controls, PlateFields } from './GangFields.tsx';

const LOAD_KINDS: readonly { readonly value: LoadKind; readonly text: string }[] = [
  { value: 'cooker', text: 'A cooker' },
  { value: 'cooker-socket', text: 'A cooker, with a socket-outlet in its plate' },
  { value: 'other', text: 'Something else: counted in full' },
];

/** All fields of one point. */
export function PointFields(props: { readonly point: Point }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { point } = props;
  const facts = POINT_KINDS[point.kind];
  const edit = (fields: Parameters<typeof editPoints>[1]): string | void => {
    const outcome = perform(program, editPoints([point.id], fields));
    if (!outcome.ok) return outcome.reason;
  };
  const boxes = rows(doc.boxes);
  return (
    <>
      <TextField
        label="Name"
        value={point.name}
        help={`Label ${point.label} stays the same whatever it is called.`}
        onCommit={(name) => edit({ name })}
      />
      <SelectField<PointKind>
        label="Kind"
        value={point.kind}
        options={POINT_KIND_NAMES.map((kind) => ({ value: kind, text: POINT_KINDS[kind].name }))}
        onCommit={(kind) => void edit({ kind })}
      />
      {facts.isSwitch && <Controls point={point} />}
      <PlaceFields point={point} />
      <PlateFields point={point} />
      {facts.boxed && (
        <>
          <SelectField
            label="Back box"
            value={point.box?.box ?? NONE}
            options={[
              { value: NONE, text: 'None' },
              ...boxes
                .filter((box) => box.gangs === boxGangs(point.kind, point.gangs) || box.mount === 'round')
                .map((box) => ({ value: box.id, text: box.name })),
            ]}
            onCommit={(box) =>
              void edit({ box: box === NONE ? null : { box, fixedFirst: point.box?.fixedFirst ?? false } })
            }
          />
          {point.box && (
            <CheckField
              label="Box fixed before the cable is pulled"
              value={point.box.fixedFirst}
              onCommit={(fixedFirst) => void edit({ box: point.box && { ...point.box, fixedFirst } })}
            />
          )}
        </>
      )}
      <CheckField
        label="Visible after fit-out"
        value={point.visible}
        help={point.visible ? undefined : 'A hidden point gives no undisputed zone.'}
        onCommit={(visible) => void edit({ visible })}
      />
      {facts.mains && point.kind !== 'consumer-unit' && (
        <SelectField
          label="Circuit"
          value={point.circuit ?? NONE}
          options={circuitOptions(doc, 'Not assigned')}
          onCommit={(circuit) => perform(program, assignPoints([point.id], orNull(circuit)))}
        />
      )}
      {facts.mains && !facts.isSwitch && point.kind !== 'consumer-unit' && (
        <NumberField<number | null>
          label="Load"
          unit="W"
          value={point.load}
          min={0}
          max={50000}
          empty="Not stated"
          onCommit={(load) => edit({ load })}
        />
      )}
      {takesLoad(point) && !facts.isLight && (
        <SelectField
          label="What takes it"
          value={point.loadKind ?? NONE}
          options={[{ value: NONE, text: 'Not said: counted in full' }, ...LOAD_KINDS]}
          onCommit={(kind) => void edit({ loadKind: kind === NONE ? null : kind })}
        />
      )}
    </>
  );
}

function PlaceFields(props: { readonly point: Point }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const derived = useDerived();
  const { point } = props;
  const { place } = point;
  const move = (to: Place): string | void => {
    const outcome = perform(program, movePoint(point.id, to));
    if (!outcome.ok) return outcome.reason;
  };
  if (place.on === 'face') {
    const left = fromLeft(doc, derived, place);
    return (
      <>
        <LengthField
          label="Height of its centre above the floor"
          value={place.z}
          max={20000}
          onCommit={(z) => move({ ...place, z })}
        />
        {left && (
          <LengthField
            label="Centre from the left-hand end of the wall"
            value={left.u}
            max={left.length}
            onCommit={(u) => move({ ...place, along: alongFromLeft(left, u) })}
          />
        )}
      </>
    );
  }
  return (
    <>
      <p className="help">
        {{ ceiling: 'On the ceiling', floor: 'On the floor', free: 'In free space' }[place.on]}; measured on
        the plan from its origin.
      </p>
      <LengthField label="Across" value={place.x} min={-1e6} onCommit={(x) => move({ ...place, x })} />
      <LengthField label="Down the plan" value={place.y} min={-1e6} onCommit={(y) => move({ ...place, y })} />
      {place.on === 'free' && (
        <LengthField label="Height" value={place.z} min={-5000} onCommit={(z) => move({ ...place, z })} />
      )}
    </>
  );
}

/** What several points have in common. */
export function PointsFields(props: { readonly points: readonly Point[] }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { points } = props;
  const ids = points.map((each) => each.id);
  const same = <T,>(read: (point: Point) => T): T | null => {
    const first = points[0];
    return first && points.every((each) => read(each) === read(first)) ? read(first) : null;
  };
  const circuit = same((each) => each.circuit ?? NONE);
  const visible = same((each) => each.visible);
  return (
    <>
      <SelectField
        label="Circuit of all"
        value={circuit ?? 'mixed'}
        options={[
          ...(circuit === null ? [{ value: 'mixed', text: 'Several' }] : []),
          ...circuitOptions(doc, 'Not assigned'),
        ]}
        onCommit={(value) => {
          if (value !== 'mixed') perform(program, assignPoints(ids, orNull(value)));
        }}
      />
      <CheckField
        label="All visible after fit-out"
        value={visible === true}
        onCommit={(value) => perform(program, editPoints(ids, { visible: value }))}
      />
    </>
  );
}

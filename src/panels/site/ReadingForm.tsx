import { useId, useState, type FormEvent, type ReactNode } from 'react';
import { addReading, editReading } from '../../document/commands/readings.ts';
import type { CircuitFacts } from '../../engine/electrical/facts.ts';
import { expectationOf } from '../../engine/circuitReport/report.ts';
import { INSULATION_TEST } from '../../engine/electrical/tables/limits.ts';
import type { Reading } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { perform } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';
import { bandText, isInsulation, keyOf, readingChoices, unitOf } from './choices.ts';

export const STAGES: readonly { readonly value: Reading['stage']; readonly text: string }[] = [
  { value: 'before-boarding', text: 'Before boarding' },
  { value: 'after-boarding', text: 'After boarding' },
  { value: 'final', text: 'Final' },
];

/** Writes a reading down, or corrects one. What is typed stays while it is refused. */
export function ReadingForm(props: {
  readonly facts: CircuitFacts;
  /** The reading to correct; null for a new one. */
  readonly reading: Reading | null;
  readonly onDone?: () => void;
}): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const id = useId();
  const { facts, reading } = props;
  const groups = readingChoices(doc, facts);
  const all = groups.flatMap((g) => g.choices);
  const last = rows(doc.readings).at(-1);
  const [key, setKey] = useState(reading === null ? (all[0]?.key ?? '') : keyOf(reading));
  const [value, setValue] = useState(reading === null ? '' : String(reading.value));
  const [stage, setStage] = useState<Reading['stage']>(reading?.stage ?? last?.stage ?? 'before-boarding');
  const [date, setDate] = useState(reading?.date ?? program.today());
  const [instrument, setInstrument] = useState(reading?.instrument ?? last?.instrument ?? '');
  const [by, setBy] = useState(reading?.by ?? last?.by ?? '');
  const [note, setNote] = useState(reading?.note ?? '');
  const [problem, setProblem] = useState<string | null>(null);
  const chosen = all.find((c) => c.key === key) ?? reading;
  if (chosen === null || chosen === undefined) return null;
  const own = isInsulation(chosen.kind) ? null : expectationOf(facts, chosen);

  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const bare = value.trim().replace(',', '.');
    if (bare === '' || !Number.isFinite(Number(bare))) {
      setProblem('Type the figure the meter showed.');
      return;
    }
    const fields: Omit<Reading, 'id'> = {
      circuit: facts.circuit.id,
      kind: chosen.kind,
      point: chosen.point,
      run: chosen.run,
      value: Number(bare),
      stage,
      date,
      instrument: instrument.trim(),
      by: by.trim(),
      note: note.trim(),
    };
    const outcome = perform(program, reading === null ? addReading(fields) : editReading(reading.id, fields));
    setProblem(outcome.ok ? null : outcome.reason);
    if (!outcome.ok) return;
    setValue('');
    setNote('');
    props.onDone?.();
  };

  return (
    <form className="fields reading-form" onSubmit={submit} noValidate>
      <div className="field">
        <label htmlFor={`${id}-what`}>What was read</label>
        <span className="entry">
          <select id={`${id}-what`} value={key} onChange={(event) => setKey(event.target.value)}>
            {groups.map((group) => (
              <optgroup key={group.name} label={group.name}>
                {group.choices.map((choice) => (
                  <option key={choice.key} value={choice.key}>
                    {choice.label}
                  </option>
                ))}
              </optgroup>
            ))}
          </select>
        </span>
        <p className="help">
          {isInsulation(chosen.kind)
            ? `At least ${INSULATION_TEST.values.megohm} MΩ at ${INSULATION_TEST.values.volts} V d.c.`
            : own === null
              ? 'The drawing gives no figure for it.'
              : `The drawing gives ${bandText(own)}.`}
        </p>
      </div>
      <div className="pair">
        <div className="field">
          <label htmlFor={`${id}-value`}>Reading</label>
          <span className="entry">
            <input
              id={`${id}-value`}
              inputMode="decimal"
              autoComplete="off"
              value={value}
              aria-invalid={problem !== null}
              aria-describedby={problem === null ? undefined : `${id}-problem`}
              onChange={(event) => setValue(event.target.value)}
            />
            <span className="unit">{unitOf(chosen.kind)}</span>
          </span>
        </div>
        <div className="field">
          <label htmlFor={`${id}-stage`}>When</label>
          <span className="entry">
            <select
              id={`${id}-stage`}
              value={stage}
              onChange={(event) => setStage(event.target.value as Reading['stage'])}
            >
              {STAGES.map((each) => (
                <option key={each.value} value={each.value}>
                  {each.text}
                </option>
              ))}
            </select>
          </span>
        </div>
      </div>
      {problem !== null && (
        <p id={`${id}-problem`} className="help bad" role="alert">
          {problem}
        </p>
      )}
      <div className="pair">
        <Text id={`${id}-date`} label="Date" type="date" value={date} onChange={setDate} />
        <Text id={`${id}-by`} label="Read by" value={by} onChange={setBy} />
      </div>
      <div className="pair">
        <Text id={`${id}-instrument`} label="Instrument" value={instrument} onChange={setInstrument} />
        <Text id={`${id}-note`} label="Note" value={note} onChange={setNote} />
      </div>
      <div className="row">
        <button type="submit" className="button primary">
          {reading === null ? 'Write it down' : 'Correct it'}
        </button>
        {reading !== null && (
          <button className="button" type="button" onClick={() => props.onDone?.()}>
            Leave it
          </button>
        )}
      </div>
    </form>
  );
}

function Text(props: {
  readonly id: string;
  readonly label: string;
  readonly type?: 'date';
  readonly value: string;
  readonly onChange: (value: string) => void;
}): ReactNode {
  return (
    <div className="field">
      <label htmlFor={props.id}>{props.label}</label>
      <span className="entry">
        <input
          id={props.id}
          type={props.type ?? 'text'}
          maxLength={200}
          value={props.value}
          onChange={(event) => props.onChange(event.target.value)}
        />
      </span>
    </div>
  );
}

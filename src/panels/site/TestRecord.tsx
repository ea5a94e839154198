import { useState, type ReactNode } from 'react';
import { removeReadings } from '../../document/commands/readings.ts';
import type { CircuitFacts } from '../../engine/electrical/facts.ts';
import type { Reading } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { perform } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';
import { explanationOf, readingName, readingText } from './choices.ts';
import { ReadingForm, STAGES } from './ReadingForm.tsx';

/** The readings someone took on a circuit, each held against the drawing. It says what differs, never that it passed. */
export function TestRecord(props: { readonly facts: CircuitFacts }): ReactNode {
  const doc = useDoc();
  const { facts } = props;
  const taken = rows(doc.readings).filter((r) => r.circuit === facts.circuit.id);
  return (
    <div className="record">
      <h4>Written down</h4>
      {taken.length === 0 && <p className="quiet">No reading yet.</p>}
      <ul>
        {taken.map((reading) => (
          <Taken key={reading.id} reading={reading} facts={facts} />
        ))}
      </ul>
      <h4>A new reading</h4>
      <ReadingForm facts={facts} reading={null} />
    </div>
  );
}

function Taken(props: { readonly reading: Reading; readonly facts: CircuitFacts }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const [editing, setEditing] = useState(false);
  const { reading, facts } = props;
  const told = explanationOf(facts, reading);
  const name = readingName(doc, reading);
  const stage = STAGES.find((s) => s.value === reading.stage)?.text ?? reading.stage;
  const details = [stage, reading.date, reading.by, reading.instrument].filter((text) => text !== '');
  if (editing)
    return (
      <li className="taken">
        <ReadingForm facts={facts} reading={reading} onDone={() => setEditing(false)} />
      </li>
    );
  return (
    <li className={`taken ${told === null ? '' : told.agrees ? 'agrees' : 'off'}`}>
      <div className="taken-head">
        <span>{name}</span>
        <b className="num">{readingText(reading)}</b>
      </div>
      <p className="quiet">{details.join(', ')}</p>
      {reading.note !== '' && <p>{reading.note}</p>}
      {told === null ? (
        <p className="quiet">The drawing gives no figure for it now.</p>
      ) : (
        <>
          <p className="says">{told.says}</p>
          {told.because.length > 0 && (
            <>
              <p className="quiet">What would explain it, the likeliest first:</p>
              <ol className="because">
                {told.because.map((text) => (
                  <li key={text}>{text}</li>
                ))}
              </ol>
            </>
          )}
        </>
      )}
      <div className="row">
        <button className="button" type="button" onClick={() => setEditing(true)}>
          Correct<span className="unseen"> {name}</span>
        </button>
        <button
          className="button"
          type="button"
          onClick={() => perform(program, removeReadings([reading.id]))}
        >
          Remove<span className="unseen"> {name}</span>
        </button>
      </div>
    </li>
  );
}

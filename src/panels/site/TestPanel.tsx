import { useState, type ReactNode } from 'react';
import type { Circuit } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { useFacts } from '../circuits/useFacts.ts';
import { TestTemperature } from '../circuits/SupplyFields.tsx';
import { Caution } from '../ui/First.tsx';
import { circuitName } from '../ui/names.ts';
import { useDoc } from '../ui/hooks.ts';
import { ExpectedTables } from './ExpectedTables.tsx';
import { TestRecord } from './TestRecord.tsx';
import './readings.css';

/** What the meter should read before the boards go on, circuit by circuit, and what it did read. */
export function TestPanel(): ReactNode {
  const doc = useDoc();
  const circuits = rows(doc.circuits);
  if (circuits.length === 0) return <p className="help">There is no circuit to test yet.</p>;
  return (
    <>
      <Caution>
        Dead tests, by a competent person. Isolate: identify, isolate, lock off with the key kept and a notice
        up, prove the tester, test line to neutral, line to earth and neutral to earth, prove the tester
        again. Probes as HSE GS38: 4 mm of bare tip at most, 2 mm or less for preference.
      </Caution>
      <div className="test-at">
        <TestTemperature />
        <p className="help">Expected readings are worked out for copper at this temperature.</p>
      </div>
      {circuits.map((circuit) => (
        <OfCircuit key={circuit.id} circuit={circuit} />
      ))}
    </>
  );
}

function OfCircuit(props: { readonly circuit: Circuit }): ReactNode {
  const doc = useDoc();
  const [open, setOpen] = useState(false);
  const { circuit } = props;
  const taken = rows(doc.readings).filter((r) => r.circuit === circuit.id).length;
  return (
    <details className="test-circuit" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        <h4>{circuitName(circuit)}</h4>
        <span className="count">
          {taken} {taken === 1 ? 'reading' : 'readings'}
        </span>
      </summary>
      {open && <Opened circuit={circuit} />}
    </details>
  );
}

/** Worked out only while it is open. */
function Opened(props: { readonly circuit: Circuit }): ReactNode {
  const worked = useFacts(props.circuit.id);
  if (worked === null) return <p className="quiet">Working it out…</p>;
  return (
    <>
      <ExpectedTables facts={worked.facts} />
      <TestRecord facts={worked.facts} />
    </>
  );
}

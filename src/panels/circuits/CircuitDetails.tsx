import type { ReactNode } from 'react';
import { editCircuit } from '../../document/commands/circuits.ts';
import { editPoints } from '../../document/commands/points.ts';
import { diagramOf } from '../../engine/electrical/diagram.ts';
import type { CircuitFacts } from '../../engine/electrical/facts.ts';
import { takesLoad } from '../../engine/electrical/loads.ts';
import type { ElectricalInput } from '../../engine/electrical/net.ts';
import type { Circuit, Id } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { EDITIONS } from '../../engine/zones/editions.ts';
import type { App } from '../../tools/app.ts';
import { NumberField } from '../ui/fields.tsx';
import { metres } from '../ui/lengths.tsx';
import { circuitName, pointName } from '../ui/names.ts';
import { perform, pick } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';
import { showPoint, showRun } from '../../app/show.ts';
import { CircuitDiagramView } from './CircuitDiagramView.tsx';
import { useFacts } from './useFacts.ts';
import {
  amps,
  conditionLines,
  factLines,
  factorsOf,
  ratingSource,
  type ConditionLine,
  type FactLine,
  type SeenAt,
} from './factLines.ts';
import { SourceLine } from '../ui/SourceLine.tsx';

/** Everything worked out of one circuit: diagram, facts, how its metres lie, and the loads that are missing. */
export function CircuitDetails(props: { readonly circuit: Circuit }): ReactNode {
  const { circuit } = props;
  const worked = useFacts(circuit.id);
  const name = circuitName(circuit);
  if (worked === null) return <p className="quiet">Working {name} out…</p>;
  const { facts, input } = worked;
  return (
    <>
      <details className="circuit-part" open>
        <summary>
          <h3>Diagram of {name}</h3>
        </summary>
        {facts.net.problem !== null && <p className="help warn">{facts.net.problem}</p>}
        <CircuitDiagramView diagram={diagramOf(facts.net, facts.wiring)} name={name} />
        <p className="help">Not to scale. Metres are with their tails.</p>
      </details>
      <Facts facts={facts} input={input} />
      <Conditions facts={facts} input={input} />
      <Loads circuit={circuit} unstated={facts.current.unstated} />
    </>
  );
}

const STATES: Readonly<Record<FactLine['state'], string>> = {
  keeps: 'Keeps the limit by the drawing',
  breaks: 'Beyond the limit',
  open: 'A question for the designer',
  plain: '',
};

/** Selects what a fact is about, brings it into view and lights it. */
function showAt(app: App, at: SeenAt): void {
  if (at.kind === 'point') {
    const point = app.store.getState().doc.points.byId[at.point];
    if (point === undefined) return;
    pick(app, 'points', at.point);
    showPoint(app, point);
    app.session.set({ lit: new Set([`point:${at.point}`]) });
    return;
  }
  app.session.set({
    selection: [{ table: 'runs', id: at.run, part: `leg:${at.leg}` }],
    lit: new Set([`run:${at.run}:${at.leg}`]),
  });
  showRun(app, at.run);
}

function Facts(props: { readonly facts: CircuitFacts; readonly input: ElectricalInput }): ReactNode {
  const { facts, input } = props;
  const lines = factLines(input, facts);
  const wrong = lines.filter((line) => line.state === 'breaks').length;
  return (
    <details className="circuit-part" open>
      <summary>
        <h3>Will it carry, will it trip</h3>
        {wrong > 0 && <span className="count bad">{wrong}</span>}
      </summary>
      <p className="help">
        Advice from the drawn lengths, against {EDITIONS[input.doc.job.edition].name}. The designer decides;
        nothing is resized.
      </p>
      <ul className="facts">
        {lines.map((line) => (
          <Fact key={line.key} line={line} />
        ))}
      </ul>
    </details>
  );
}

/** One fact: its figure at once, its working and source on opening. What is wrong or open is open from the start. */
function Fact(props: { readonly line: FactLine }): ReactNode {
  const program = useProgram();
  const { line } = props;
  const state = STATES[line.state];
  return (
    <li className={`fact ${line.state}`}>
      <details open={line.state === 'breaks' || line.state === 'open'}>
        <summary>
          <span>
            {line.name}
            {state !== '' && <span className="unseen">: {state}</span>}
          </span>
          <b>{line.value ?? (line.state === 'breaks' ? '' : 'not known')}</b>
        </summary>
        {state !== '' && <p className="fact-state">{state}</p>}
        {line.working !== '' && <p>{line.working}</p>}
        {line.fix !== null && <p>{line.fix}</p>}
        <SourceLine text={`Source: ${line.source}`} rank={line.rank} />
        {line.at !== null && (
          <button
            className="button"
            type="button"
            onClick={() => {
              if (line.at !== null) showAt(program, line.at);
            }}
          >
            Show it on the plan
          </button>
        )}
      </details>
    </li>
  );
}

/** Metres by how they lie, the least rating first. */
function Conditions(props: { readonly facts: CircuitFacts; readonly input: ElectricalInput }): ReactNode {
  const { facts, input } = props;
  const lines = conditionLines(facts);
  const unknown = facts.conditions.filter((c) => c.unknown !== null && c.unknown !== 'not a mains cable');
  if (lines.length === 0) return null;
  return (
    <details className="circuit-part" open>
      <summary>
        <h3>How its metres lie</h3>
      </summary>
      <table className="table conditions">
        <thead>
          <tr>
            <th scope="col">Method and why</th>
            <th scope="col" className="num">
              Metres
            </th>
            <th scope="col" className="num">
              Carries
            </th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <ConditionRow key={line.key} line={line} input={input} />
          ))}
        </tbody>
      </table>
      {unknown.map((c) => (
        <p key={c.run} className="help warn">
          {input.doc.runs.byId[c.run]?.label}: {c.unknown}. The designer decides.
        </p>
      ))}
      <SourceLine {...ratingSource(lines.map((line) => line.method))} />
    </details>
  );
}

function ConditionRow(props: { readonly line: ConditionLine; readonly input: ElectricalInput }): ReactNode {
  const program = useProgram();
  const { line, input } = props;
  const light = (on: boolean): void =>
    program.session.set({ lit: on ? new Set([`run:${line.at.run}:${line.at.leg}`]) : new Set() });
  const run = input.doc.runs.byId[line.at.run];
  return (
    <tr
      className={line.worst ? 'worst' : undefined}
      onPointerEnter={() => light(true)}
      onPointerLeave={() => light(false)}
    >
      <th scope="row">
        <button
          type="button"
          className="link"
          onClick={() => showAt(program, { kind: 'leg', run: line.at.run, leg: line.at.leg })}
        >
          {line.method === '–' ? 'No method' : `Method ${line.method}`}: {line.why}
        </button>
        <small>
          {line.worst && <b>Governs: </b>}
          {run?.label}, {factorsOf(input, line.at)}
        </small>
      </th>
      <td className="num">{metres(line.lengthMm)}</td>
      <td className="num">{line.iz === null ? 'not known' : amps(line.iz)}</td>
    </tr>
  );
}

/** Loads and design current, typed where they are missing. */
function Loads(props: { readonly circuit: Circuit; readonly unstated: readonly Id[] }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { circuit, unstated } = props;
  const points = rows(doc.points).filter((p) => p.circuit === circuit.id && takesLoad(p));
  return (
    <details className="circuit-part" open={unstated.length > 0}>
      <summary>
        <h3>Loads</h3>
        {unstated.length > 0 && <span className="count">{unstated.length} not stated</span>}
      </summary>
      <div className="fields">
        <NumberField<number | null>
          label="Design current of the circuit"
          unit="A"
          value={circuit.designCurrent}
          min={0}
          max={400}
          empty="From the loads below"
          onCommit={(designCurrent) => {
            const outcome = perform(program, editCircuit(circuit.id, { designCurrent }));
            if (!outcome.ok) return outcome.reason;
          }}
        />
        {points.map((point) => (
          <NumberField<number | null>
            key={point.id}
            label={`Load of ${pointName(point)}`}
            unit="W"
            value={point.load}
            min={0}
            max={1e5}
            empty="Not stated: a question for the designer"
            onCommit={(load) => {
              const outcome = perform(program, editPoints([point.id], { load }));
              if (!outcome.ok) return outcome.reason;
            }}
          />
        ))}
      </div>
    </details>
  );
}

import { Suspense, useMemo, type ReactNode } from 'react';
import { addCircuit, removeCircuits } from '../../document/commands/circuits.ts';
import type { Circuit, Id, PlanDocument, Point, Run } from '../../engine/model/document.ts';
import { POINT_KINDS } from '../../engine/model/pointKinds.ts';
import { rows } from '../../engine/model/tables.ts';
import { cutWithAllowance } from '../../engine/takeoff/totals.ts';
import { SheetButtons } from '../circuits/SheetButtons.tsx';
import { SupplyFields } from '../circuits/SupplyFields.tsx';
import { First } from '../ui/First.tsx';
import { openFindings, showFinding } from '../findings/findings.ts';
import { CircuitFields } from './CircuitFields.tsx';
import { metres } from '../ui/lengths.tsx';
import { circuitName, pointName } from '../ui/names.ts';
import { perform, pick } from '../../app/program.ts';
import { useDerived, useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { showPoint } from '../../app/show.ts';
import { lazily } from '../ui/lazily.tsx';
import './circuits.css';

const CircuitDetails = lazily(
  () => import('../circuits/CircuitDetails.tsx'),
  (m) => m.CircuitDetails,
);

/** Circuits, what they feed, and what is not yet fed. */
export function CircuitsPanel(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const choices = useSession((state) => state.choices);
  const tool = useSession((state) => state.tool);
  const circuits = rows(doc.circuits);
  const members = useMemo(() => membersOf(doc.points, doc.runs), [doc.points, doc.runs]);
  const current = doc.circuits.byId[choices.circuit ?? ''];
  const take = (circuit: string | null): void => program.session.set({ choices: { ...choices, circuit } });
  const add = (topology: Circuit['topology']): void => {
    const outcome = perform(program, addCircuit({ topology }));
    if (outcome.ok && outcome.made[0]) {
      program.session.set({ choices: { ...choices, circuit: outcome.made[0] }, tool: 'assign' });
      pick(program, 'circuits', outcome.made[0]);
    }
  };
  return (
    <>
      {circuits.length === 0 && <First />}
      <div className="row" role="group" aria-label="Add a circuit">
        <button className="button" type="button" onClick={() => add('ring')}>
          + Ring
        </button>
        <button className="button" type="button" onClick={() => add('radial')}>
          + Radial
        </button>
        <button className="button" type="button" onClick={() => add('lighting')}>
          + Lighting
        </button>
      </div>
      {tool === 'assign' && (
        <p className="help">
          {current
            ? `Click or paint over points to put them on ${circuitName(current)}.`
            : 'Pick the circuit to put points on, or paint with none to take them off.'}
        </p>
      )}
      <ul className="circuits">
        {circuits.map((circuit) => (
          <CircuitRow
            key={circuit.id}
            circuit={circuit}
            members={members.get(circuit.id) ?? NO_MEMBERS}
            on={circuit.id === choices.circuit}
            // Painting with none takes points off; otherwise a circuit stays open until another is picked.
            onTake={() => take(tool === 'assign' && circuit.id === choices.circuit ? null : circuit.id)}
          />
        ))}
      </ul>
      {current && (
        <details>
          <summary>
            <h3>Edit {circuitName(current)}</h3>
          </summary>
          <div className="fields">
            <CircuitFields key={current.id} circuit={current} />
            <button
              type="button"
              className="button remove"
              onClick={() => perform(program, removeCircuits([current.id]))}
            >
              Remove this circuit
            </button>
          </div>
        </details>
      )}
      {current ? (
        <Suspense fallback={null}>
          <CircuitDetails key={current.id} circuit={current} />
        </Suspense>
      ) : (
        circuits.length > 0 && (
          <p className="help">Pick a circuit: its diagram, and whether it carries and trips, open below.</p>
        )
      )}
      <Unassigned />
      <Troubles />
      {circuits.length > 0 && (
        <>
          <details>
            <summary>
              <h3>Supply and temperatures</h3>
            </summary>
            <SupplyFields />
          </details>
          <SheetButtons />
        </>
      )}
    </>
  );
}

/** What hangs on a circuit. */
interface Members {
  readonly points: readonly Point[];
  readonly runs: readonly Run[];
}
const NO_MEMBERS: Members = { points: [], runs: [] };

/** In one pass: a plan may have hundreds of circuits. */
function membersOf(points: PlanDocument['points'], runs: PlanDocument['runs']): ReadonlyMap<Id, Members> {
  const members = new Map<Id, { points: Point[]; runs: Run[] }>();
  const of = (circuit: Id): { points: Point[]; runs: Run[] } => {
    const known = members.get(circuit) ?? { points: [], runs: [] };
    members.set(circuit, known);
    return known;
  };
  for (const point of rows(points)) if (point.circuit !== null) of(point.circuit).points.push(point);
  for (const run of rows(runs)) if (run.circuit !== null) of(run.circuit).runs.push(run);
  return members;
}

function CircuitRow(props: {
  readonly circuit: Circuit;
  readonly members: Members;
  readonly on: boolean;
  readonly onTake: () => void;
}): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { takeOff } = useDerived();
  const { circuit } = props;
  const { points, runs } = props.members;
  const length = runs.reduce((sum, run) => {
    const own = takeOff.runs.get(run.id);
    return own ? sum + cutWithAllowance(doc, own) : sum;
  }, 0);
  const light = (on: boolean): void =>
    program.session.set({
      lit: on
        ? new Set([...points.map((each) => `point:${each.id}`), ...runs.map((each) => `run:${each.id}`)])
        : new Set(),
    });
  return (
    <li>
      <button
        className="button circuit-card"
        type="button"
        aria-pressed={props.on}
        onClick={() => {
          props.onTake();
          pick(program, 'circuits', circuit.id);
        }}
        onPointerEnter={() => light(true)}
        onPointerLeave={() => light(false)}
      >
        <b>{circuitName(circuit)}</b>
        <span>
          {{ ring: 'Ring', radial: 'Radial', lighting: 'Lighting' }[circuit.topology]}, {circuit.device.type}
          {circuit.device.rating} A{circuit.device.rcd === null ? ', no RCD' : `, ${circuit.device.rcd} mA`}
        </span>
        <span>
          {points.length} {points.length === 1 ? 'point' : 'points'}, {runs.length}{' '}
          {runs.length === 1 ? 'run' : 'runs'}
          {length > 0 && `, ${metres(length)} to cut`}
        </span>
      </button>
    </li>
  );
}

const takesCircuit = (point: Point): boolean =>
  point.kind !== 'consumer-unit' && POINT_KINDS[point.kind].mains;

function Unassigned(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const points = rows(doc.points).filter((each) => each.circuit === null && takesCircuit(each));
  if (points.length === 0) return null;
  return (
    <details open>
      <summary>
        <h3>On no circuit</h3>
        <span className="count">{points.length}</span>
      </summary>
      <ul className="list">
        {points.map((point) => (
          <li key={point.id}>
            <button
              type="button"
              className="link"
              onClick={() => {
                pick(program, 'points', point.id);
                showPoint(program, point);
              }}
            >
              {pointName(point)}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}

/** Not reachable by runs, not back at the board: as the checks of this stage say. */
function Troubles(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { findings } = useDerived();
  const own = openFindings(findings, doc).filter(
    (each) =>
      each.stage === 'circuits' && !(each.point !== null && doc.points.byId[each.point]?.circuit === null),
  );
  if (own.length === 0) return null;
  return (
    <details open>
      <summary>
        <h3>Not joined up</h3>
        <span className="count">{own.length}</span>
      </summary>
      <ul className="list">
        {own.map((finding) => (
          <li key={finding.key}>
            <button type="button" className="link" onClick={() => showFinding(program, finding)}>
              {finding.message}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}

import type { ReactNode } from 'react';
import type { CircuitFacts } from '../../engine/electrical/facts.ts';
import type { ExpectedReading } from '../../engine/electrical/readings.ts';
import { sourcesOf } from '../../engine/electrical/tables/cited.ts';
import { INSULATION_TEST, RING_TOLERANCE } from '../../engine/electrical/tables/limits.ts';
import { COPPER_20, COPPER_PER_DEGREE } from '../../engine/electrical/tables/resistance.ts';
import type { Id, ReadingKind } from '../../engine/model/document.ts';
import { pick } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';
import { showPoint, showRun } from '../../app/show.ts';
import { bandText } from './choices.ts';
import { ranked } from '../../engine/model/evidence.ts';

/** What the meter should read on a circuit: round the ring, at its points, and each cable by itself. */
export function ExpectedTables(props: { readonly facts: CircuitFacts }): ReactNode {
  const { facts } = props;
  const { readings } = facts;
  const { megohm, volts } = INSULATION_TEST.values;
  return (
    <>
      {readings.problem !== null && (
        <p className="help warn">
          No reading can be expected of the circuit as a whole: {readings.problem} Its cables can be read by
          themselves.
        </p>
      )}
      <EndToEnd facts={facts} />
      <AtPoints facts={facts} />
      <ByCable facts={facts} />
      <p className="expected-insulation">
        Insulation, line to neutral and live to earth: at least <b>{megohm} MΩ</b> at {volts} V d.c., with
        nothing connected.
      </p>
      <p className="source">
        {ranked(
          sourcesOf(
            COPPER_20,
            COPPER_PER_DEGREE,
            INSULATION_TEST,
            ...(facts.circuit.topology === 'ring' ? [RING_TOLERANCE] : []),
          ),
        )}
        . The band runs from the drawn metres without tails to those with them, and holds the error of the
        drawing’s scale; the instrument’s own error comes on top.
      </p>
    </>
  );
}

const NAMES: Readonly<Partial<Record<ReadingKind, string>>> = {
  r1: 'r1, line',
  rn: 'rn, neutral',
  r2: 'r2, protective conductor',
};

function Figure(props: { readonly expected: ExpectedReading | undefined }): ReactNode {
  const { expected } = props;
  if (expected === undefined) return <td className="num">–</td>;
  return (
    <td className="num" title={`${expected.working}: ${expected.expected.toFixed(4)} Ω`}>
      <b>{expected.expected.toFixed(2)}</b>
      <small>{bandText(expected).replace(' Ω', '')}</small>
    </td>
  );
}

function EndToEnd(props: { readonly facts: CircuitFacts }): ReactNode {
  const whole = props.facts.readings.expected.filter((e) => e.point === null);
  if (whole.length === 0) return null;
  return (
    <table className="table expected">
      <caption>Round the ring, end to end, before it is joined</caption>
      <thead>
        <tr>
          <th scope="col">Conductor</th>
          <th scope="col" className="num">
            Ω, band
          </th>
        </tr>
      </thead>
      <tbody>
        {whole.map((e) => (
          <tr key={e.kind}>
            <th scope="row">{NAMES[e.kind] ?? e.kind}</th>
            <Figure expected={e} />
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function PointName(props: { readonly point: Id; readonly furthest: boolean }): ReactNode {
  const program = useProgram();
  const point = useDoc().points.byId[props.point];
  if (point === undefined) return null;
  return (
    <>
      <button
        type="button"
        className="link"
        onClick={() => {
          pick(program, 'points', point.id);
          showPoint(program, point);
        }}
        onPointerEnter={() => program.session.set({ hover: { table: 'points', id: point.id, part: null } })}
        onPointerLeave={() => program.session.set({ hover: null })}
      >
        {point.label}
      </button>
      <small>{props.furthest ? <b>the furthest</b> : point.name}</small>
    </>
  );
}

function AtPoints(props: { readonly facts: CircuitFacts }): ReactNode {
  const { expected, furthest } = props.facts.readings;
  const at = expected.filter((e) => e.kind === 'r1r2');
  if (at.length === 0) return null;
  const find = (kind: ReadingKind, point: Id | null): ExpectedReading | undefined =>
    expected.find((e) => e.kind === kind && e.point === point);
  const ring = expected.some((e) => e.kind === 'ring-line-neutral');
  return (
    <table className="table expected">
      <caption>{ring ? 'At each socket, ends crossed over; then joined up' : 'At each point'}</caption>
      <thead>
        <tr>
          <th scope="col">Point</th>
          {ring && (
            <>
              <th scope="col" className="num">
                L–N crossed
              </th>
              <th scope="col" className="num">
                L–cpc crossed
              </th>
            </>
          )}
          <th scope="col" className="num">
            R1 + R2
          </th>
        </tr>
      </thead>
      <tbody>
        {at.map((e) => (
          <tr key={e.point} className={e.point === furthest ? 'furthest' : undefined}>
            <th scope="row">
              {e.point !== null && <PointName point={e.point} furthest={e.point === furthest} />}
            </th>
            {ring && (
              <>
                <Figure expected={find('ring-line-neutral', e.point)} />
                <Figure expected={find('ring-line-earth', e.point)} />
              </>
            )}
            <Figure expected={e} />
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function ByCable(props: { readonly facts: CircuitFacts }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { runReadings } = props.facts;
  const runs = [...new Set(runReadings.flatMap((e) => e.run ?? []))];
  if (runs.length === 0) return null;
  const find = (kind: ReadingKind, run: Id): ExpectedReading | undefined =>
    runReadings.find((e) => e.kind === kind && e.run === run);
  return (
    <details>
      <summary>
        <h4>Each cable by itself</h4>
        <span className="count">{runs.length}</span>
      </summary>
      <table className="table expected">
        <thead>
          <tr>
            <th scope="col">Cable</th>
            <th scope="col" className="num">
              Line
            </th>
            <th scope="col" className="num">
              cpc
            </th>
            <th scope="col" className="num">
              Line + cpc
            </th>
          </tr>
        </thead>
        <tbody>
          {runs.map((run) => (
            <tr key={run}>
              <th scope="row">
                <button
                  type="button"
                  className="link"
                  onClick={() => {
                    pick(program, 'runs', run);
                    showRun(program, run);
                  }}
                >
                  {doc.runs.byId[run]?.label}
                </button>
              </th>
              <Figure expected={find('r1', run)} />
              <Figure expected={find('r2', run)} />
              <Figure expected={find('continuity', run)} />
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

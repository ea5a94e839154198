import type { ReactNode } from 'react';
import type { Point, PointKind } from '../../engine/model/document.ts';
import { gangWord, POINT_KIND_NAMES, POINT_KINDS, usualGangs } from '../../engine/model/pointKinds.ts';
import { find, rows } from '../../engine/model/tables.ts';
import { SYMBOLS } from '../../view/shared/symbols.ts';
import { GangChoice } from './GangFields.tsx';
import { First } from '../ui/First.tsx';
import { LengthField, showLength } from '../ui/lengths.tsx';
import { PointSymbol } from '../ui/PointSymbol.tsx';
import { usePrefs } from '../ui/usePrefs.ts';
import { pick } from '../../app/program.ts';
import { useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { showPoint } from '../../app/show.ts';
import './points.css';

/** The palette of points, the choices of the next one, the table of those placed, and the legend. */
export function PointsPanel(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const tool = useSession((state) => state.tool);
  const choices = useSession((state) => state.choices);
  const facts = POINT_KINDS[choices.pointKind];
  const choose = (patch: Partial<typeof choices>): void =>
    program.session.set({ choices: { ...choices, ...patch } });
  const take = (pointKind: PointKind): void =>
    program.session.set({
      tool: 'point',
      choices: {
        ...choices,
        pointKind,
        pointHeight: null,
        gangs: pointKind === choices.pointKind ? choices.gangs : usualGangs(pointKind),
      },
    });
  return (
    <>
      {doc.points.order.length === 0 && <First />}
      <div className="palette" role="group" aria-label="Kinds of point">
        {POINT_KIND_NAMES.map((kind) => (
          <button
            className="button kind-button"
            key={kind}
            type="button"
            aria-pressed={tool === 'point' && choices.pointKind === kind}
            onClick={() => take(kind)}
          >
            <PointSymbol kind={kind} />
            <span>{POINT_KINDS[kind].name}</span>
          </button>
        ))}
      </div>
      {tool === 'point' && (
        <div className="fields">
          <GangChoice
            kind={choices.pointKind}
            gangs={choices.gangs}
            onCommit={(gangs) => choose({ gangs })}
          />
          {facts.hosts.includes('face') && (
            <LengthField<number | null>
              label="Height of its centre above the floor"
              value={choices.pointHeight}
              max={20000}
              empty={`Usually ${facts.height} mm`}
              onCommit={(pointHeight) => choose({ pointHeight })}
            />
          )}
          <p className="help">
            Goes on a{' '}
            {facts.hosts
              .map((host) => ({ face: 'wall', ceiling: 'ceiling', floor: 'floor', free: 'free spot' })[host])
              .join(' or ')}
            {facts.boxed ? `; box ${facts.boxDepth} mm deep unless changed` : ''}.
          </p>
        </div>
      )}
      <PointTable />
      <details>
        <summary>
          <h3>Legend</h3>
        </summary>
        <ul className="legend">
          {POINT_KIND_NAMES.map((kind) => (
            <li key={kind}>
              <PointSymbol kind={kind} />
              <span>
                {POINT_KINDS[kind].name}
                {SYMBOLS[kind].basis !== 'sourced' && (
                  <small>
                    {' '}
                    ({SYMBOLS[kind].basis === 'own' ? 'plain shape of our own' : 'shape from memory'})
                  </small>
                )}
              </span>
            </li>
          ))}
        </ul>
        <p className="help">Shapes after IEC 60617-11.</p>
      </details>
    </>
  );
}

function PointTable(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { units } = usePrefs();
  const selection = useSession((state) => state.selection);
  const points = rows(doc.points);
  if (points.length === 0) return null;
  const height = (point: Point): string =>
    point.place.on === 'face' || point.place.on === 'free'
      ? showLength(point.place.z, units)
      : { ceiling: 'ceiling', floor: 'floor' }[point.place.on];
  return (
    <details open>
      <summary>
        <h3>Points</h3>
        <span className="count">{points.length}</span>
      </summary>
      <table className="table">
        <thead>
          <tr>
            <th scope="col">No.</th>
            <th scope="col">What</th>
            <th scope="col">Height</th>
            <th scope="col">Circuit</th>
          </tr>
        </thead>
        <tbody>
          {points.map((point) => (
            <tr
              key={point.id}
              className={
                selection.some((ref) => ref.table === 'points' && ref.id === point.id) ? 'on' : undefined
              }
              onPointerEnter={() =>
                program.session.set({ hover: { table: 'points', id: point.id, part: null } })
              }
              onPointerLeave={() => program.session.set({ hover: null })}
            >
              <th scope="row">
                <button
                  type="button"
                  className="link"
                  onClick={() => {
                    pick(program, 'points', point.id);
                    showPoint(program, point);
                  }}
                >
                  {point.label}
                </button>
              </th>
              <td>
                {POINT_KINDS[point.kind].name}
                {point.gangs > 1 && `, ${gangWord(point.gangs)}`}
                {point.name && point.name !== POINT_KINDS[point.kind].name && <small> {point.name}</small>}
              </td>
              <td className="num">{height(point)}</td>
              <td>{find(doc, 'circuits', point.circuit)?.label ?? '–'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

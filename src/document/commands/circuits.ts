import type { Circuit, Id, PlanDocument } from '../../engine/model/document.ts';
import { POINT_KINDS } from '../../engine/model/pointKinds.ts';
import { rows } from '../../engine/model/tables.ts';
import { command, drop, nextLabelled, patch, put, refuse } from '../transact.ts';
import type { Command, Refusal } from '../types.ts';
import { controlsRefusal, usedGangs } from './points.ts';
import { sound } from './plane.ts';

/** What must be said of a new circuit; the rest has usual values, to be edited. */
export type NewCircuit = Pick<Circuit, 'topology'> & Partial<Omit<Circuit, 'id' | 'label' | 'topology'>>;

// Usual devices and sizes for a start only: 32 A ring on 2.5 mm², 20 A radial on 2.5 mm², 6 A lighting on 1.5 mm²,
// all with 30 mA protection. Common practice; the designer decides.
const USUAL = {
  ring: { name: 'Ring final', rating: 32, csa: 2.5 },
  radial: { name: 'Radial', rating: 20, csa: 2.5 },
  lighting: { name: 'Lighting', rating: 6, csa: 1.5 },
} as const;

/** A new circuit, numbered C1, C2 ...; fed from the only consumer unit when there is just one. */
export function addCircuit(fields: NewCircuit): Command {
  return command('Add circuit', (draft, step) => {
    const { doc } = step;
    const usual = USUAL[fields.topology];
    const cables = rows(doc.cables).filter((c) => c.use === 'power');
    const cable =
      fields.cable ?? cables.find((c) => c.csa === usual.csa && c.cores === 2)?.id ?? cables[0]?.id;
    if (cable === undefined) return refuse('Put a cable in the catalogue first.');
    const three =
      fields.topology === 'lighting' ? cables.find((c) => c.csa === usual.csa && c.cores === 3) : undefined;
    const boards = rows(doc.points).filter((p) => p.kind === 'consumer-unit');
    const { id, label } = nextLabelled(draft, 'circuits');
    const circuit: Circuit = {
      name: usual.name,
      device: { type: 'B', rating: usual.rating, rcd: 30 },
      board: boards.length === 1 ? (boards[0]?.id ?? null) : null,
      cable3: three?.id ?? null,
      way: null,
      first: [],
      last: [],
      designCurrent: null,
      ...fields,
      cable,
      id,
      label,
    };
    const wrong = circuitRefusal(doc, circuit);
    if (wrong) return wrong;
    put(draft, 'circuits', circuit);
    step.made(id);
  });
}

/** Changes anything about a circuit but its number. */
export function editCircuit(id: Id, fields: Partial<Omit<Circuit, 'id' | 'label'>>): Command {
  return command('Edit circuit', (draft, step) => {
    const now = step.doc.circuits.byId[id];
    if (!now) return refuse('That circuit is no longer in the plan.');
    const wrong = circuitRefusal(step.doc, { ...now, ...fields });
    if (wrong) return wrong;
    patch(draft, 'circuits', id, fields);
  });
}

/** Takes circuits away; their points and runs stay, on no circuit. Readings keep a circuit from going. */
export function removeCircuits(ids: readonly Id[]): Command {
  return command(ids.length === 1 ? 'Remove circuit' : 'Remove circuits', (draft, step) => {
    const { doc } = step;
    const gone = new Set(ids);
    for (const id of ids) {
      const circuit = doc.circuits.byId[id];
      if (!circuit) return refuse('That circuit is no longer in the plan.');
      if (rows(doc.readings).some((r) => r.circuit === id))
        return refuse(`${circuit.label} has readings recorded: remove those first.`);
    }
    const points = rows(doc.points).filter((p) => gone.has(p.circuit ?? ''));
    const runs = rows(doc.runs).filter((r) => gone.has(r.circuit ?? ''));
    for (const p of points) patch(draft, 'points', p.id, { circuit: null });
    for (const r of runs) patch(draft, 'runs', r.id, { circuit: null });
    for (const id of ids) drop(draft, 'circuits', id);
    if (points.length + runs.length > 0)
      step.note(`${points.length} points and ${runs.length} runs are now on no circuit.`);
  });
}

/** Puts points on a circuit, or takes them off with null. Consumer units and data outlets are passed over. */
export function assignPoints(points: readonly Id[], circuit: Id | null): Command {
  return command(circuit === null ? 'Take off circuit' : 'Assign to circuit', (draft, step) => {
    const { doc } = step;
    const chosen = circuit === null ? null : doc.circuits.byId[circuit];
    if (chosen === undefined) return refuse('That circuit is no longer in the plan.');
    if (points.some((id) => !doc.points.byId[id])) return refuse('That point is no longer in the plan.');
    const fit = points.filter((id) => takesCircuit(doc, id));
    if (circuit !== null && fit.length === 0)
      return refuse('Consumer units and data outlets are not on a circuit.');
    const staying = new Set(fit);
    for (const id of fit) patch(draft, 'points', id, { circuit });
    for (const other of rows(doc.circuits)) {
      if (other.id === circuit) continue;
      patch(draft, 'circuits', other.id, {
        first: other.first.filter((id) => !staying.has(id)),
        last: other.last.filter((id) => !staying.has(id)),
      });
    }
    if (fit.length < points.length)
      step.note(`${points.length - fit.length} passed over: not on a mains circuit.`);
  });
}

/** Says which points a gang of a switch works; gangs count from 0. */
export function setControls(switchPoint: Id, gang: number, controls: readonly Id[]): Command {
  return command('Set switching', (draft, step) => {
    const point = step.doc.points.byId[switchPoint];
    if (!point) return refuse('That point is no longer in the plan.');
    if (controls.length > 0 && !POINT_KINDS[point.kind].isSwitch)
      return refuse(`${point.label} is not a switch.`);
    const wrong = controlsRefusal(step.doc, controls, switchPoint);
    if (wrong) return wrong;
    if (!Number.isInteger(gang) || gang < 0 || gang >= point.gangs)
      return refuse(`${point.label} has no gang ${gang + 1}.`);
    const gangs = Array.from({ length: point.gangs }, (_, i) =>
      i === gang ? controls : (point.controls[i] ?? []),
    );
    patch(draft, 'points', switchPoint, { controls: usedGangs(gangs) });
  });
}

function takesCircuit(doc: PlanDocument, id: Id): boolean {
  const kind = doc.points.byId[id]?.kind;
  return kind !== undefined && kind !== 'consumer-unit' && POINT_KINDS[kind].mains;
}

function circuitRefusal(doc: PlanDocument, c: Circuit): Refusal | null {
  if (!doc.cables.byId[c.cable] || (c.cable3 !== null && !doc.cables.byId[c.cable3]))
    return refuse('That cable is no longer in the catalogue.');
  if (c.board !== null && doc.points.byId[c.board]?.kind !== 'consumer-unit')
    return refuse('A circuit is fed from a consumer unit.');
  if (!sound(c.device.rating) || c.device.rating <= 0) return refuse('A device rating is more than 0 A.');
  if (c.device.rcd !== null && !(sound(c.device.rcd) && c.device.rcd > 0))
    return refuse('A residual current rating is more than 0 mA.');
  if (c.designCurrent !== null && !(sound(c.designCurrent) && c.designCurrent >= 0))
    return refuse('A design current is 0 A or more.');
  const pinned = [...c.first, ...c.last];
  if (new Set(pinned).size !== pinned.length) return refuse('A point is pinned twice.');
  if (pinned.some((id) => !doc.points.byId[id])) return refuse('A pinned point is no longer in the plan.');
  return null;
}

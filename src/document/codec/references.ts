import type { Id, PlanDocument, TableName } from '../../engine/model/document.ts';
import { kindOf, RECORDS } from '../../engine/model/records.ts';
import { rows, TABLE_NAMES, tableOf } from '../../engine/model/tables.ts';

interface Wrong {
  readonly path: string;
  readonly message: string;
}

type Say = (path: string, message: string) => void;

/** Everything that does not hold between records: names of records that are not there, and records at odds. */
export function referenceProblems(doc: PlanDocument): Wrong[] {
  const wrong: Wrong[] = [];
  const say: Say = (path, message) => void wrong.push({ path, message });
  for (const name of TABLE_NAMES) mentionProblems(doc, name, say);
  wallProblems(doc, say);
  fabricProblems(doc, say);
  workProblems(doc, say);
  return wrong;
}

function mentionProblems(doc: PlanDocument, name: TableName, say: Say): void {
  const { mentions } = kindOf(name);
  for (const record of rows<{ readonly id: Id }>(tableOf(doc, name))) {
    for (const { at, table, id } of mentions(record)) {
      if (id !== null && !Object.hasOwn(tableOf(doc, table).byId, id))
        say(`${name}.${record.id}.${at}`, `names ${id}, which is not among the ${RECORDS[table].many}`);
    }
  }
}

function fabricProblems(doc: PlanDocument, say: Say): void {
  for (const b of rows(doc.buildUps)) {
    for (const side of ['left', 'right'] as const) {
      if (b.cableLayer[side] >= b.layers.length)
        say(
          `buildUps.${b.id}.cableLayer.${side}`,
          `must be one of the ${b.layers.length} layers, counted from 0`,
        );
    }
  }
  for (const o of rows(doc.openings))
    if (o.head <= o.sill) say(`openings.${o.id}.head`, 'must be above the sill');
  for (const { id, place } of rows(doc.things)) {
    if (place.z1 < place.z0) say(`things.${id}.place.z1`, 'must not be below z0');
    if (place.on === 'face' && place.along1 <= place.along0)
      say(`things.${id}.place.along1`, 'must be more than along0');
  }
}

function workProblems(doc: PlanDocument, say: Say): void {
  const once = (path: string, ids: readonly Id[]): void => {
    if (new Set(ids).size !== ids.length) say(path, 'names one record twice');
  };
  for (const p of rows(doc.points)) {
    p.controls.forEach((gang, i) => {
      once(`points.${p.id}.controls[${i}]`, gang);
      if (gang.includes(p.id)) say(`points.${p.id}.controls[${i}]`, 'a switch cannot work itself');
    });
    if (p.controls.length > p.gangs) say(`points.${p.id}.controls`, 'has more gangs than the switch');
  }
  for (const c of rows(doc.circuits)) {
    once(`circuits.${c.id}.first`, c.first);
    once(`circuits.${c.id}.last`, c.last);
  }
  for (const r of rows(doc.runs)) {
    if (r.from !== null && r.from === r.to) say(`runs.${r.id}.to`, 'must be another point than from');
    if (r.corners.length + (r.from === null ? 0 : 1) + (r.to === null ? 0 : 1) < 2)
      say(`runs.${r.id}.corners`, 'a run needs two ends: with both parked, at least two corners');
  }
  for (const m of rows(doc.readings)) {
    if (m.circuit === null && m.run === null && m.point === null)
      say(`readings.${m.id}`, 'must name a circuit, run or point');
  }
  for (const table of ['points', 'circuits', 'runs'] as const) {
    const seen = new Map<string, Id>();
    for (const { id, label } of rows<{ id: Id; label: string }>(doc[table])) {
      const other = seen.get(label);
      if (other !== undefined) say(`${table}.${id}.label`, `${label} is also the label of ${other}`);
      seen.set(label, id);
    }
  }
}

function wallProblems(doc: PlanDocument, say: (path: string, message: string) => void): void {
  const pairs = new Map<string, Id>();
  for (const w of rows(doc.walls)) {
    const path = `walls.${w.id}`;
    const a = doc.nodes.byId[w.from];
    const b = doc.nodes.byId[w.to];
    if (w.from === w.to) say(`${path}.to`, 'must be another node than from');
    else if (a && b && a.x === b.x && a.y === b.y)
      say(path, 'has no length: both of its nodes are at one spot');
    for (const [end, node] of [
      ['from', a],
      ['to', b],
    ] as const) {
      if (node && node.storey !== w.storey) say(`${path}.${end}`, 'is a node of another storey');
    }
    const pair = [w.from, w.to].sort().join(' ');
    const other = pairs.get(pair);
    if (other !== undefined) say(path, `lies between the same two nodes as ${other}`);
    pairs.set(pair, w.id);
  }
}

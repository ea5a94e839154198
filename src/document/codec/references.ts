import type { Id, Place, PlanDocument, TableName } from '../../engine/model/document.ts';
import { rows, tableOf } from '../../engine/model/tables.ts';

interface Wrong {
  readonly path: string;
  readonly message: string;
}

/** Everything that does not hold between records: names of records that are not there, and records at odds. */
export function referenceProblems(doc: PlanDocument): Wrong[] {
  const wrong: Wrong[] = [];
  const say = (path: string, message: string): void => void wrong.push({ path, message });
  const need = (path: string, table: TableName, id: Id | null): void => {
    if (id !== null && !Object.hasOwn(tableOf(doc, table).byId, id))
      say(path, `names ${id}, which is not among the ${WORDS[table] ?? table}`);
  };
  const needAll = (path: string, table: TableName, ids: readonly Id[]): void => {
    ids.forEach((id, i) => need(`${path}[${i}]`, table, id));
    if (new Set(ids).size !== ids.length) say(path, 'names one record twice');
  };
  const needPlace = (path: string, place: Place): void => {
    if (place.on === 'face') need(`${path}.wall`, 'walls', place.wall);
    else need(`${path}.storey`, 'storeys', place.storey);
  };
  for (const u of rows(doc.tracings)) need(`tracings.${u.id}.storey`, 'storeys', u.storey);
  for (const n of rows(doc.nodes)) need(`nodes.${n.id}.storey`, 'storeys', n.storey);
  for (const t of rows(doc.roomTags)) need(`roomTags.${t.id}.storey`, 'storeys', t.storey);
  for (const b of rows(doc.buildUps)) {
    for (const side of ['left', 'right'] as const) {
      if (b.cableLayer[side] >= b.layers.length)
        say(
          `buildUps.${b.id}.cableLayer.${side}`,
          `must be one of the ${b.layers.length} layers, counted from 0`,
        );
    }
  }
  wallProblems(doc, need, say);
  for (const o of rows(doc.openings)) {
    need(`openings.${o.id}.wall`, 'walls', o.wall);
    if (o.head <= o.sill) say(`openings.${o.id}.head`, 'must be above the sill');
  }
  for (const t of rows(doc.things)) {
    const { place } = t;
    if (place.on === 'face') need(`things.${t.id}.place.wall`, 'walls', place.wall);
    else need(`things.${t.id}.place.storey`, 'storeys', place.storey);
    if (place.z1 < place.z0) say(`things.${t.id}.place.z1`, 'must not be below z0');
    if (place.on === 'face' && place.along1 <= place.along0)
      say(`things.${t.id}.place.along1`, 'must be more than along0');
  }
  for (const p of rows(doc.points)) {
    needPlace(`points.${p.id}.place`, p.place);
    need(`points.${p.id}.circuit`, 'circuits', p.circuit);
    need(`points.${p.id}.box.box`, 'boxes', p.box?.box ?? null);
    p.controls.forEach((gang, i) => {
      needAll(`points.${p.id}.controls.${i}`, 'points', gang);
      if (gang.includes(p.id)) say(`points.${p.id}.controls.${i}`, 'a switch cannot work itself');
    });
    if (p.controls.length > p.gangs) say(`points.${p.id}.controls`, 'has more gangs than the switch');
  }
  for (const c of rows(doc.circuits)) {
    need(`circuits.${c.id}.board`, 'points', c.board);
    need(`circuits.${c.id}.cable`, 'cables', c.cable);
    need(`circuits.${c.id}.cable3`, 'cables', c.cable3);
    needAll(`circuits.${c.id}.first`, 'points', c.first);
    needAll(`circuits.${c.id}.last`, 'points', c.last);
  }
  for (const r of rows(doc.runs)) {
    need(`runs.${r.id}.circuit`, 'circuits', r.circuit);
    need(`runs.${r.id}.cable`, 'cables', r.cable);
    need(`runs.${r.id}.from`, 'points', r.from);
    need(`runs.${r.id}.to`, 'points', r.to);
    r.corners.forEach((corner, i) => needPlace(`runs.${r.id}.corners[${i}]`, corner));
    if (r.from !== null && r.from === r.to) say(`runs.${r.id}.to`, 'must be another point than from');
    if (r.corners.length + (r.from === null ? 0 : 1) + (r.to === null ? 0 : 1) < 2)
      say(`runs.${r.id}.corners`, 'a run needs two ends: with both parked, at least two corners');
  }
  for (const m of rows(doc.readings)) {
    need(`readings.${m.id}.circuit`, 'circuits', m.circuit);
    need(`readings.${m.id}.run`, 'runs', m.run);
    need(`readings.${m.id}.point`, 'points', m.point);
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
  return wrong;
}

const WORDS: Partial<Record<TableName, string>> = {
  buildUps: 'build-ups',
  nodes: 'nodes of walls',
  cables: 'cables of the catalogue',
  boxes: 'boxes of the catalogue',
};

function wallProblems(
  doc: PlanDocument,
  need: (path: string, table: TableName, id: Id | null) => void,
  say: (path: string, message: string) => void,
): void {
  const pairs = new Map<string, Id>();
  for (const w of rows(doc.walls)) {
    const path = `walls.${w.id}`;
    need(`${path}.storey`, 'storeys', w.storey);
    need(`${path}.buildUp`, 'buildUps', w.buildUp);
    need(`${path}.from`, 'nodes', w.from);
    need(`${path}.to`, 'nodes', w.to);
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

import type { SubjectKind } from '../checks/rule.ts';
import { faceName } from '../checks/words.ts';
import { buildFabric } from '../fabric/build.ts';
import type { Fabric, FaceId } from '../fabric/types.ts';
import type { Id, PlanDocument, TableName, Tables } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import type { BucketKey } from './buckets.ts';
import { contextOf, type IndexParts } from './derivedIndex.ts';
import { same } from './same.ts';
import type { Touched } from './types.ts';

/** What must be worked out again, gathered while a change is followed. */
export class Dirty {
  readonly faces = new Set<FaceId>();
  readonly runs = new Set<Id>();
  readonly points = new Set<Id>();
  readonly buckets = new Set<BucketKey>();

  look(kind: SubjectKind, ids: Iterable<Id | null | undefined>): void {
    for (const id of ids) if (id != null) this.buckets.add(`${kind} ${id}`);
  }
}

/** Tables whose records go into everything of a plan: a change of them works all out afresh. They change rarely. */
const WHOLE: readonly TableName[] = ['storeys', 'buildUps'];

/** Must all be worked out afresh? */
export function needsWhole(before: PlanDocument, after: PlanDocument, touched: Touched): boolean {
  if (WHOLE.some((table) => (touched[table]?.size ?? 0) > 0)) return true;
  const [a, b] = [before.job, after.job];
  // Every circuit hangs on these.
  if (!same(a.supply, b.supply) || a.ambient !== b.ambient || a.testTemperature !== b.testTemperature)
    return true;
  if (a.otherCircuitsInStrip !== b.otherCircuitsInStrip) return true;
  return a.edition !== b.edition || a.newDwelling !== b.newDwelling || !same(a.allowances, b.allowances);
}

/** Both sides of a touched record. */
export function sides<K extends TableName>(
  before: PlanDocument,
  after: PlanDocument,
  table: K,
  id: Id,
): Tables[K][] {
  return [find(before, table, id), find(after, table, id)].flatMap((r) => (r === undefined ? [] : [r]));
}

/** Storeys whose walls, openings or room names were touched. */
export function storeysTouched(before: PlanDocument, after: PlanDocument, touched: Touched): Set<Id> {
  const storeys = new Set<Id>();
  for (const id of touched.nodes ?? [])
    for (const n of sides(before, after, 'nodes', id)) storeys.add(n.storey);
  for (const id of touched.walls ?? [])
    for (const w of sides(before, after, 'walls', id)) storeys.add(w.storey);
  for (const id of touched.roomTags ?? []) {
    for (const t of sides(before, after, 'roomTags', id)) storeys.add(t.storey);
  }
  for (const id of touched.openings ?? []) {
    for (const o of sides(before, after, 'openings', id)) {
      for (const w of sides(before, after, 'walls', o.wall)) storeys.add(w.storey);
    }
  }
  return storeys;
}

/** Walls that were touched themselves, or by a node of theirs. */
export function wallsTouched(before: PlanDocument, after: PlanDocument, touched: Touched): Set<Id> {
  const walls = new Set<Id>(touched.walls ?? []);
  const nodes = touched.nodes ?? new Set<Id>();
  if (nodes.size > 0) {
    for (const doc of [before, after]) {
      for (const w of rows(doc.walls)) if (nodes.has(w.from) || nodes.has(w.to)) walls.add(w.id);
    }
  }
  return walls;
}

/** A storey's fabric built again. Faces that came out the same keep their old object; what did not is told. */
export interface Rebuilt {
  readonly fabric: Fabric;
  readonly changed: readonly FaceId[];
  readonly gone: readonly FaceId[];
}

export function rebuild(doc: PlanDocument, storey: Id, old: Fabric | undefined): Rebuilt {
  const built = buildFabric(doc, storey);
  const changed: FaceId[] = [];
  const faces = new Map(
    [...built.faces].map(([id, face]) => {
      const before = old?.faces.get(id);
      if (before !== undefined && same(before, face)) return [id, before];
      changed.push(id);
      return [id, face];
    }),
  );
  const gone = [...(old?.faces.keys() ?? [])].filter((id) => !built.faces.has(id));
  return { fabric: { ...built, faces }, changed, gone };
}

/** Faces of a storey that are called differently now, or look into a room of another use. */
export function renamed(before: IndexParts, after: IndexParts, storey: Id): FaceId[] {
  const [old, now] = [before.fabrics.get(storey), after.fabrics.get(storey)];
  if (old === undefined || now === undefined) return [];
  const [a, b] = [contextOf(before), contextOf(after)];
  const useOf = (fabric: Fabric, id: FaceId) => fabric.rooms.get(fabric.faces.get(id)?.room ?? '')?.tag?.use;
  return [...now.faces.keys()].filter(
    (id) =>
      old.faces.has(id) &&
      (faceName(a, storey, id) !== faceName(b, storey, id) || useOf(old, id) !== useOf(now, id)),
  );
}

import { findOn } from '../checks/registry.ts';
import type { CheckContext, SubjectKind } from '../checks/rule.ts';
import type { Finding } from '../checks/types.ts';
import type { Id } from '../model/document.ts';
import { compareIds } from './idList.ts';

/** Kind of subject and its id: `run r7`. */
export type BucketKey = `${SubjectKind} ${string}`;

const KINDS: readonly SubjectKind[] = ['tracing', 'storey', 'face', 'point', 'circuit', 'run'];

/** The kind and the id in a key. */
export function subjectOf(key: BucketKey): readonly [kind: SubjectKind, id: Id] {
  const at = key.indexOf(' ');
  return [key.slice(0, at) as SubjectKind, key.slice(at + 1)];
}

/** Findings of one subject, none when it is not there any more. */
export function findInBucket(ctx: CheckContext, key: BucketKey): readonly Finding[] {
  const { doc } = ctx;
  const [kind, id] = subjectOf(key);
  switch (kind) {
    case 'face': {
      // A face id begins with its wall's.
      const storey = doc.walls.byId[id.split('.')[0] as Id]?.storey;
      const there = storey !== undefined && ctx.fabrics.get(storey)?.faces.has(id);
      return there ? findOn(ctx, 'face', { storey, face: id }) : [];
    }
    case 'run':
      return doc.runs.byId[id] ? findOn(ctx, 'run', doc.runs.byId[id]) : [];
    case 'point':
      return doc.points.byId[id] ? findOn(ctx, 'point', doc.points.byId[id]) : [];
    case 'circuit':
      return doc.circuits.byId[id] ? findOn(ctx, 'circuit', doc.circuits.byId[id]) : [];
    case 'storey':
      return doc.storeys.byId[id] ? findOn(ctx, 'storey', doc.storeys.byId[id]) : [];
    case 'tracing':
      return doc.tracings.byId[id] ? findOn(ctx, 'tracing', doc.tracings.byId[id]) : [];
  }
}

/** All findings: by kind of subject in the order of the job, then by id. Independent of how they were arrived at. */
export function findingsInOrder(buckets: ReadonlyMap<BucketKey, readonly Finding[]>): readonly Finding[] {
  const keys = [...buckets.keys()].map((key) => {
    const [kind, id] = subjectOf(key);
    return { key, rank: KINDS.indexOf(kind), id };
  });
  keys.sort((a, b) => a.rank - b.rank || compareIds(a.id, b.id));
  return keys.flatMap(({ key }) => buckets.get(key) ?? []);
}

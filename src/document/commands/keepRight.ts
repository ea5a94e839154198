import { current, isDraft } from 'immer';
import { buildFabric } from '../../engine/fabric/build.ts';
import { moveKeepingRight } from '../../engine/fabric/stretch.ts';
import type { Fabric } from '../../engine/fabric/types.ts';
import type { Id, Place, PlanDocument } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { PlanDraft } from '../transact.ts';
import { patch } from '../transact.ts';

type Basis = readonly unknown[];
let lastMade: { readonly of: Basis; readonly fabrics: ReadonlyMap<Id, Fabric> } | null = null;

/**
 * The fabric of every storey that has walls. The last answer is kept for as long as nothing it is made of changes: moving
 * points and runs about asks for the same one over and over.
 */
export function fabricsOf(doc: PlanDocument): ReadonlyMap<Id, Fabric> {
  const of: Basis = [doc.storeys, doc.buildUps, doc.nodes, doc.walls, doc.openings, doc.roomTags];
  if (lastMade !== null && lastMade.of.every((part, i) => part === of[i])) return lastMade.fabrics;
  const walled = new Set(rows(doc.walls).map((w) => w.storey));
  const fabrics = new Map([...walled].map((storey) => [storey, buildFabric(doc, storey)]));
  lastMade = { of, fabrics };
  return fabrics;
}

/**
 * Before a point of a draft moves: lets the runs that end on it follow, level, plumb and joined. `fabrics` are those of
 * the plan, which a moved point does not change.
 */
export function keepRunsRight(
  draft: PlanDraft,
  point: Id,
  to: Place,
  fabrics: () => ReadonlyMap<Id, Fabric>,
): void {
  const doc = (isDraft(draft) ? current(draft) : draft) as PlanDocument;
  for (const run of rows(doc.runs)) {
    for (const end of ['from', 'to'] as const) {
      if (run[end] !== point || run.corners.length === 0) continue;
      patch(draft, 'runs', run.id, { corners: moveKeepingRight(doc, fabrics(), run, end, to) });
    }
  }
}

import { vectorDot, vectorSub } from '../geometry/vector.ts';
import type { Id, PlanDocument } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { standsOn } from './graph.ts';
import { NODE_TOLERANCE } from './tolerances.ts';
import { wallFrame } from './wallFrame.ts';

/** A node of other walls that stands on a wall. */
export interface Tee {
  readonly node: Id;
  /** Along the wall's centre line from its first node. */
  readonly along: Mm;
  /** Square to the centre line, positive to the wall's left. */
  readonly off: Mm;
}

/**
 * Nodes standing on a wall (on its centre line within 1 mm, or between its surfaces) that are not its own ends and
 * that another wall of the storey uses: what must move along when the wall is moved. In order of `along`.
 */
export function teesOf(doc: PlanDocument, wallId: Id): readonly Tee[] {
  const wall = find(doc, 'walls', wallId);
  const frame = wall ? wallFrame(doc, wall) : null;
  if (!wall || !frame) return [];
  const nodes = new Set<Id>();
  for (const other of rows(doc.walls)) {
    if (other.storey !== wall.storey || other.id === wallId) continue;
    nodes.add(other.from);
    nodes.add(other.to);
  }
  const out: Tee[] = [];
  for (const id of nodes) {
    const node = find(doc, 'nodes', id);
    if (!node || id === wall.from || id === wall.to) continue;
    if (standsOn(frame, node, NODE_TOLERANCE) === null) continue;
    const v = vectorSub(node, frame.from);
    out.push({ node: id, along: vectorDot(v, frame.dir), off: vectorDot(v, frame.normal) });
  }
  return out.sort((a, b) => a.along - b.along || (a.node < b.node ? -1 : 1));
}

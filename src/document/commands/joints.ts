import { teesOf } from '../../engine/fabric/tees.ts';
import type { Id, PlanDocument, Wall } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import { centreLine, direction, distance, JOIN_TOLERANCE, project, wallThickness } from './plane.ts';

/** Two directions are square, or parallel, within about half a degree. */
const NEARLY = 0.01;

/** Walls that end on a node. */
export function wallsAt(doc: PlanDocument, node: Id): Wall[] {
  return rows(doc.walls).filter((w) => w.from === node || w.to === node);
}

/** The node of a storey at a spot, within the joining tolerance; the nearest where there are several. */
export function nodeAt(doc: PlanDocument, storey: Id, p: PlanPoint, tolerance = JOIN_TOLERANCE): Id | null {
  let best: { id: Id; d: Mm } | null = null;
  for (const node of rows(doc.nodes)) {
    const d = node.storey === storey ? distance(node, p) : Infinity;
    if (d <= tolerance && (best === null || d < best.d)) best = { id: node.id, d };
  }
  return best?.id ?? null;
}

/** True when a spot lies within a wall, between its two surfaces and clear of its ends by the joining tolerance. */
export function standsOn(doc: PlanDocument, wall: Wall, p: PlanPoint): boolean {
  const line = centreLine(doc, wall.id);
  const { along, off } = project(line, p);
  return (
    off <= Math.max(JOIN_TOLERANCE, wallThickness(doc, wall) / 2) &&
    along > JOIN_TOLERANCE &&
    along < distance(line.a, line.b) - JOIN_TOLERANCE
  );
}

/** Nodes of other walls that stand on a wall, clear of its ends: where partitions meet it. */
export function nodesOn(doc: PlanDocument, wall: Wall): Id[] {
  const line = centreLine(doc, wall.id);
  const length = distance(line.a, line.b);
  return teesOf(doc, wall.id)
    .filter((tee) => tee.along > JOIN_TOLERANCE && tee.along < length - JOIN_TOLERANCE)
    .map((tee) => tee.node);
}

/** Walls a node stands on without being an end of them. */
export function hostsOf(doc: PlanDocument, node: Id): Wall[] {
  const at = doc.nodes.byId[node];
  if (!at) return [];
  return rows(doc.walls).filter(
    (w) => w.storey === at.storey && w.from !== node && w.to !== node && standsOn(doc, w, at),
  );
}

/** How two walls lie to each other. */
export function relation(doc: PlanDocument, a: Id, b: Id): 'square' | 'parallel' | 'skew' {
  const d = direction(centreLine(doc, a));
  const e = direction(centreLine(doc, b));
  if (d === null || e === null) return 'skew';
  if (Math.abs(d.x * e.x + d.y * e.y) < NEARLY) return 'square';
  return Math.abs(d.x * e.y - d.y * e.x) < NEARLY ? 'parallel' : 'skew';
}

import type { Id, PlanDocument, Wall } from '../../engine/model/document.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';

/** Nodes nearer than this are one joint, and a node this near a centre line stands on that wall. */
export const JOIN_TOLERANCE: Mm = 1;
/** The shortest wall that can be drawn. */
export const SHORTEST_WALL: Mm = 10;

export interface Line {
  readonly a: PlanPoint;
  readonly b: PlanPoint;
}

/** Distance between two points of the plan, mm. */
export function distance(a: PlanPoint, b: PlanPoint): Mm {
  return Math.hypot(b.x - a.x, b.y - a.y);
}

/** Centre line of a wall, from its first node to its second. Throws on a wall that does not exist. */
export function centreLine(doc: PlanDocument, wall: Id): Line {
  const record = doc.walls.byId[wall];
  const a = record && doc.nodes.byId[record.from];
  const b = record && doc.nodes.byId[record.to];
  if (!a || !b) throw new Error(`wall ${wall} does not exist or has no nodes`);
  return { a, b };
}

/** Length of a wall's centre line, mm. */
export function wallLength(doc: PlanDocument, wall: Id): Mm {
  const { a, b } = centreLine(doc, wall);
  return distance(a, b);
}

/** Sum of the layers of a wall, mm. */
export function wallThickness(doc: PlanDocument, wall: Wall): Mm {
  return (doc.buildUps.byId[wall.buildUp]?.layers ?? []).reduce((sum, l) => sum + l.thickness, 0);
}

/** Height of a wall's top at a distance along its centre line, mm above its storey's floor. */
export function topAt(doc: PlanDocument, wall: Wall, along: Mm): Mm {
  if (wall.top.kind === 'level') return wall.top.z;
  if (wall.top.kind === 'ceiling') return doc.storeys.byId[wall.storey]?.ceilingHeight ?? 0;
  const t = Math.min(1, Math.max(0, along / wallLength(doc, wall.id)));
  return wall.top.zFrom + (wall.top.zTo - wall.top.zFrom) * t;
}

/** Unit direction of a line; null when its ends coincide. */
export function direction(line: Line): PlanPoint | null {
  const length = distance(line.a, line.b);
  return length === 0 ? null : { x: (line.b.x - line.a.x) / length, y: (line.b.y - line.a.y) / length };
}

/** Where a point falls on a line: mm along it from its first end, and mm off it (unsigned). */
export function project(line: Line, p: PlanPoint): { along: Mm; off: Mm } {
  const d = direction(line);
  if (d === null) return { along: 0, off: distance(line.a, p) };
  const dx = p.x - line.a.x;
  const dy = p.y - line.a.y;
  return { along: dx * d.x + dy * d.y, off: Math.abs(dx * d.y - dy * d.x) };
}

/** The point of a line that lies so far along it. */
export function pointAlong(line: Line, along: Mm): PlanPoint {
  const d = direction(line);
  return d === null ? line.a : { x: line.a.x + d.x * along, y: line.a.y + d.y * along };
}

/** Where two lines, drawn out without end, cross; null when they are within about half a degree of parallel. */
export function crossing(first: Line, second: Line): PlanPoint | null {
  const d = direction(first);
  const e = direction(second);
  if (d === null || e === null) return null;
  const cross = d.x * e.y - d.y * e.x;
  if (Math.abs(cross) < 0.01) return null;
  const t = ((second.a.x - first.a.x) * e.y - (second.a.y - first.a.y) * e.x) / cross;
  return { x: first.a.x + d.x * t, y: first.a.y + d.y * t };
}

/** True when a number is one a plan can hold: finite and within 10 km. */
export function sound(...values: readonly number[]): boolean {
  return values.every((v) => Number.isFinite(v) && Math.abs(v) <= 1e7);
}

import { segmentGrid } from '../geometry/grid.ts';
import type { SegmentGrid } from '../geometry/grid.ts';
import { segmentCrossing } from '../geometry/segment.ts';
import { pointDistance, vectorCross, vectorDot, vectorSub } from '../geometry/vector.ts';
import type { Id, PlanDocument } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { Mm, PlanPoint } from '../model/units.ts';
import { NODE_TOLERANCE, SHORTEST_WALL } from './tolerances.ts';
import { wallFrame } from './wallFrame.ts';
import type { WallFrame } from './wallFrame.ts';

/** A piece of a wall's centre line between two vertices. */
export interface Edge {
  readonly frame: WallFrame;
  readonly along0: Mm;
  readonly along1: Mm;
  readonly v0: number;
  readonly v1: number;
}

/** Walls of a storey, split (in mind only) wherever another wall meets or crosses them. */
export interface WallGraph {
  readonly frames: readonly WallFrame[];
  readonly vertices: readonly PlanPoint[];
  readonly edges: readonly Edge[];
}

interface Split {
  readonly along: Mm;
  readonly vertex: number;
}

const CELL: Mm = 1000;
const PARALLEL = 1e-9;

/** Sine of 30°. */
const FAIR_ANGLE = 0.5;

/** A node on or between the surfaces of a wall that is not its own; `own`: the walls that end in it. */
interface Stand {
  readonly vertex: number;
  readonly wall: number;
  readonly along: Mm;
  readonly off: Mm;
  readonly onLine: boolean;
  readonly own: readonly number[];
}

const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Where a point stands on a wall's body (0 to length, up to half a thickness off), or null. Tolerance in mm. */
export function standsOn(frame: WallFrame, p: PlanPoint, tolerance: Mm): Split['along'] | null {
  const v = vectorSub(p, frame.from);
  const along = vectorDot(v, frame.dir);
  if (along < -tolerance || along > frame.length + tolerance) return null;
  return Math.abs(vectorCross(frame.dir, v)) <= frame.half + tolerance ? along : null;
}

/** Vertices that turn out to be one are joined; the one made first stands for all. */
class Vertices {
  readonly points: PlanPoint[] = [];
  private readonly parent: number[] = [];

  add(p: PlanPoint): number {
    this.points.push(p);
    this.parent.push(this.parent.length);
    return this.points.length - 1;
  }

  root(v: number): number {
    let r = v;
    while (this.parent[r] !== r) r = this.parent[r] as number;
    while (this.parent[v] !== r) {
      const up = this.parent[v] as number;
      this.parent[v] = r;
      v = up;
    }
    return r;
  }

  join(a: number, b: number): void {
    const x = this.root(a);
    const y = this.root(b);
    if (x !== y) this.parent[Math.max(x, y)] = Math.min(x, y);
  }
}

/** Walls, vertices and edges of a storey, in an order that depends on ids alone. Unusable walls are left out. */
export function wallGraph(doc: PlanDocument, storey: Id): WallGraph {
  const frames = rows(doc.walls)
    .filter((wall) => wall.storey === storey)
    .map((wall) => wallFrame(doc, wall))
    .filter((f): f is WallFrame => f !== null && f.length >= SHORTEST_WALL && f.thickness > 0)
    .sort((a, b) => byText(a.id, b.id));
  const vertices = new Vertices();
  const nodeVertex = nodeVertices(frames, vertices);
  const grid = segmentGrid(
    frames.map((f) => ({ a: f.from, b: f.to, reach: f.half + 2 * NODE_TOLERANCE })),
    CELL,
  );
  const splits: Split[][] = frames.map((f) => [
    { along: 0, vertex: nodeVertex.get(f.wall.from) as number },
    { along: f.length, vertex: nodeVertex.get(f.wall.to) as number },
  ]);
  const met = splitAtTees(frames, nodeVertex, vertices, grid, splits);
  splitAtCrossings(frames, vertices, grid, splits, met);
  for (const list of splits) {
    list.sort((a, b) => a.along - b.along || a.vertex - b.vertex);
    for (let i = 1; i < list.length; i++) {
      const a = list[i - 1] as Split;
      const b = list[i] as Split;
      if (b.along - a.along <= NODE_TOLERANCE) vertices.join(a.vertex, b.vertex);
    }
  }
  return { frames, vertices: vertices.points, edges: edgesOf(frames, splits, vertices) };
}

function nodeVertices(frames: readonly WallFrame[], vertices: Vertices): Map<Id, number> {
  const places = new Map<Id, PlanPoint>();
  for (const f of frames) {
    places.set(f.wall.from, f.from);
    places.set(f.wall.to, f.to);
  }
  const out = new Map<Id, number>();
  const cells = new Map<string, number[]>();
  for (const id of [...places.keys()].sort(byText)) {
    const p = places.get(id) as PlanPoint;
    const v = vertices.add(p);
    out.set(id, v);
    const ix = Math.floor(p.x / NODE_TOLERANCE);
    const iy = Math.floor(p.y / NODE_TOLERANCE);
    for (let i = ix - 1; i <= ix + 1; i++) {
      for (let j = iy - 1; j <= iy + 1; j++) {
        for (const w of cells.get(`${i},${j}`) ?? []) {
          if (pointDistance(p, vertices.points[w] as PlanPoint) <= NODE_TOLERANCE) vertices.join(v, w);
        }
      }
    }
    const key = `${ix},${iy}`;
    const cell = cells.get(key);
    if (cell) cell.push(v);
    else cells.set(key, [v]);
  }
  return out;
}

/** Pairs of walls that meet already (as i * count + j): they need no crossing. */
function splitAtTees(
  frames: readonly WallFrame[],
  nodeVertex: ReadonlyMap<Id, number>,
  vertices: Vertices,
  grid: SegmentGrid,
  splits: Split[][],
): ReadonlySet<number> {
  const wallsAt = new Map<number, number[]>();
  const met = new Set<number>();
  const meet = (i: number, j: number): void => {
    met.add(i * frames.length + j);
    met.add(j * frames.length + i);
  };
  frames.forEach((f, i) => {
    for (const node of [f.wall.from, f.wall.to]) {
      const root = vertices.root(nodeVertex.get(node) as number);
      const list = wallsAt.get(root);
      if (list) list.push(i);
      else wallsAt.set(root, [i]);
    }
  });
  for (const own of wallsAt.values()) for (const i of own) for (const j of own) meet(i, j);
  const stands: Stand[] = [];
  for (const [node, v] of nodeVertex) {
    const p = vertices.points[v] as PlanPoint;
    const own = wallsAt.get(vertices.root(v)) ?? [];
    for (const wall of grid.near(p)) {
      const f = frames[wall] as WallFrame;
      if (f.wall.from === node || f.wall.to === node || own.includes(wall)) continue;
      const along = standsOn(f, p, NODE_TOLERANCE);
      if (along === null) continue;
      const off = Math.abs(vectorCross(f.dir, vectorSub(p, f.from)));
      stands.push({ vertex: v, wall, along, off, onLine: off <= NODE_TOLERANCE, own });
    }
  }
  // Nearest the centre line first. Off the line a node takes one wall only; and where walls go on from it, none that
  // one of them meets already at a fair angle: then it is a mere joint in that one, within the thickness of the other.
  stands.sort((a, b) => a.off - b.off || a.vertex - b.vertex || a.wall - b.wall);
  const placed = new Set<number>();
  for (const { vertex, wall, along, onLine, own } of stands) {
    const host = frames[wall] as WallFrame;
    const joint =
      own.length > 1 &&
      own.some(
        (i) =>
          met.has(i * frames.length + wall) &&
          Math.abs(vectorCross((frames[i] as WallFrame).dir, host.dir)) > FAIR_ANGLE,
      );
    if (!onLine && (placed.has(vertex) || joint)) continue;
    placed.add(vertex);
    (splits[wall] as Split[]).push({ along: Math.min(Math.max(along, 0), host.length), vertex });
    for (const i of own) meet(i, wall);
  }
  return met;
}

function splitAtCrossings(
  frames: readonly WallFrame[],
  vertices: Vertices,
  grid: SegmentGrid,
  splits: Split[][],
  met: ReadonlySet<number>,
): void {
  const found: { readonly i: number; readonly j: number; readonly t: Mm; readonly s: Mm; at: PlanPoint }[] =
    [];
  for (const [key, cell] of grid.cells()) {
    for (let m = 0; m < cell.length; m++) {
      for (let n = m + 1; n < cell.length; n++) {
        const i = cell[m] as number;
        const j = cell[n] as number;
        if (met.has(i * frames.length + j)) continue;
        const f = frames[i] as WallFrame;
        const g = frames[j] as WallFrame;
        const hit = segmentCrossing(f.from, f.to, g.from, g.to, PARALLEL);
        // A pair may share several cells: only the cell that holds the crossing speaks.
        if (!hit || grid.cellOf(hit.point) !== key) continue;
        found.push({ i, j, t: hit.t * f.length, s: hit.s * g.length, at: hit.point });
      }
    }
  }
  found.sort((a, b) => a.i - b.i || a.j - b.j);
  for (const { i, j, t, s, at } of found) {
    const vertex = vertices.add(at);
    (splits[i] as Split[]).push({ along: t, vertex });
    (splits[j] as Split[]).push({ along: s, vertex });
  }
}

/** One edge between two vertices: of several (walls drawn over one another) the thickest, then the smallest id. */
function edgesOf(
  frames: readonly WallFrame[],
  splits: readonly (readonly Split[])[],
  vertices: Vertices,
): Edge[] {
  const count = vertices.points.length;
  const best = new Map<number, Edge>();
  frames.forEach((frame, i) => {
    let last: Split | null = null;
    for (const split of splits[i] as Split[]) {
      const vertex = vertices.root(split.vertex);
      if (last && last.vertex === vertex) continue;
      if (last) {
        const key = Math.min(last.vertex, vertex) * count + Math.max(last.vertex, vertex);
        const rival = best.get(key);
        if (!rival || rival.frame.thickness < frame.thickness)
          best.set(key, { frame, along0: last.along, along1: split.along, v0: last.vertex, v1: vertex });
      }
      last = { along: split.along, vertex };
    }
  });
  return [...best.values()].sort((a, b) => byText(a.frame.id, b.frame.id) || a.along0 - b.along0);
}

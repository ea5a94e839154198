import { vectorCross, vectorDot, vectorSub } from '../geometry/vector.ts';
import type { Id, PlanDocument, Wall } from '../model/document.ts';
import { ask, type Derivation } from '../memo/derivation.ts';
import { find, rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { piecesOn } from './lookup.ts';
import { COINCIDENT, IN_LINE_ANGLE } from './tolerances.ts';
import type { Fabric, Face, FacePiece } from './types.ts';

export interface FaceSpot {
  readonly face: Face;
  readonly u: Mm;
}

/** A stretch of one face on the way, and the wall crossed after it (null after the last, or where it has no name). */
export interface Hop {
  readonly face: Face;
  readonly u0: Mm;
  readonly u1: Mm;
  readonly crossed: Id | null;
}

const MOST_PARTITIONS = 100;

/**
 * The faces passed going straight along one surface line from a to b, with the partitions between them; null when the
 * two do not lie on one surface line of the same wall, or of walls that follow one another in line.
 */
export function acrossPartitions(doc: PlanDocument, fabric: Fabric, a: FaceSpot, b: FaceSpot): Hop[] | null {
  if (!sameLine(a.face, b.face)) return null;
  const dir = directionOf(a.face);
  const rightwards = vectorDot(vectorSub(b.face.a, a.face.a), dir) > 0;
  const hops: Hop[] = [];
  let here = a;
  for (let i = 0; i < MOST_PARTITIONS; i++) {
    if (here.face.id === b.face.id) {
      hops.push({ face: here.face, u0: here.u, u1: b.u, crossed: null });
      return hops;
    }
    const next = neighbourInLine(doc, fabric, here.face, rightwards);
    if (!next) return null;
    const end = rightwards ? here.face.length : 0;
    hops.push({ face: here.face, u0: here.u, u1: end, crossed: crossedWall(fabric, here.face, rightwards) });
    here = { face: next, u: rightwards ? 0 : next.length };
  }
  return null;
}

function directionOf(face: Face): { readonly x: number; readonly y: number } {
  return { x: (face.b.x - face.a.x) / face.length, y: (face.b.y - face.a.y) / face.length };
}

function sameLine(p: Face, q: Face): boolean {
  if (p.pieces.length === 0 || q.pieces.length === 0) return false;
  const d = directionOf(p);
  const e = directionOf(q);
  if (vectorDot(d, e) <= 0 || Math.abs(vectorCross(d, e)) > Math.sin(IN_LINE_ANGLE)) return false;
  return Math.abs(vectorCross(d, vectorSub(q.a, p.a))) <= COINCIDENT;
}

/** The next face of the same surface line past a partition: on the same wall side, or on a wall that joins on. */
function neighbourInLine(doc: PlanDocument, fabric: Fabric, face: Face, rightwards: boolean): Face | null {
  const dir = directionOf(face);
  const last = (rightwards ? face.pieces[face.pieces.length - 1] : face.pieces[0]) as FacePiece;
  const wall = find(doc, 'walls', last.wall);
  if (!wall) return null;
  let best: Face | null = null;
  let least = Infinity;
  for (const side of ['left', 'right'] as const) {
    for (const id of [wall.id, ...joined(doc, wall)]) {
      for (const { face: other } of piecesOn(fabric, id, side)) {
        if (other.id === face.id || !sameLine(face, other)) continue;
        const gap = rightwards
          ? vectorDot(vectorSub(other.a, face.b), dir)
          : vectorDot(vectorSub(face.a, other.b), dir);
        if (gap < -COINCIDENT || gap >= least) continue;
        least = gap;
        best = other;
      }
    }
  }
  return best;
}

const WALLS_BY_NODE: Derivation<PlanDocument, ReadonlyMap<Id, readonly Wall[]>> = {
  name: 'walls by node',
  work: (doc) => {
    const byNode = new Map<Id, Wall[]>();
    for (const wall of rows(doc.walls).sort((a, b) => (a.id < b.id ? -1 : 1))) {
      for (const node of new Set([wall.from, wall.to])) {
        const list = byNode.get(node);
        if (list) list.push(wall);
        else byNode.set(node, [wall]);
      }
    }
    return byNode;
  },
  // Each node is compared by itself.
  equal: () => false,
};

const WALLS_AT: Derivation<PlanDocument, readonly Wall[]> = {
  name: 'walls at a node',
  work: (doc, node) => ask(doc, WALLS_BY_NODE).get(node) ?? [],
};

function joined(doc: PlanDocument, wall: Wall): Id[] {
  const others = [wall.from, wall.to].flatMap((node) => ask(doc, WALLS_AT, node));
  return [...new Set(others.filter((w) => w.id !== wall.id && w.storey === wall.storey).map((w) => w.id))];
}

/** The partition at the end of a face: the wall of the face round the angle. */
function crossedWall(fabric: Fabric, face: Face, rightwards: boolean): Id | null {
  const next = (rightwards ? face.right : face.left).next;
  const beside = next === null ? undefined : fabric.faces.get(next);
  if (!beside) return null;
  const piece = rightwards ? beside.pieces[0] : beside.pieces[beside.pieces.length - 1];
  return piece?.wall ?? null;
}

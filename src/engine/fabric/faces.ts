import { intervalOverlap } from '../geometry/interval.ts';
import { vectorDot, vectorSub } from '../geometry/vector.ts';
import type { Id, Opening, PlanDocument, Side } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { FacePoint, Mm, PlanPoint } from '../model/units.ts';
import type { Course } from './corners.ts';
import { isCap, stripPoint } from './strips.ts';
import type { Joint, Strip } from './strips.ts';
import { LEAST_ANGLE } from './tolerances.ts';
import type { Face, FaceBuild, FaceEnd, FaceId, FaceOpening, FacePiece, Opposite } from './types.ts';
import { wallTopAt } from './wallFrame.ts';
import type { WallFrame } from './wallFrame.ts';

/** A face before it has a name, neighbours and an opposite side. */
export interface FaceDraft {
  readonly face: Omit<Face, 'id' | 'room' | 'left' | 'right' | 'opposite'>;
  readonly left: Pick<FaceEnd, 'kind' | 'angle'>;
  readonly right: Pick<FaceEnd, 'kind' | 'angle'>;
  /** `wall.side` (or wall and end, for a cap) of its left-most piece, and where that piece lies along the wall. */
  readonly home: string;
  readonly along: Mm;
}

const EPS = 1e-6;

export function openingsByWall(doc: PlanDocument): ReadonlyMap<Id, readonly Opening[]> {
  const out = new Map<Id, Opening[]>();
  for (const opening of rows(doc.openings).sort((a, b) => (a.id < b.id ? -1 : 1))) {
    const list = out.get(opening.wall);
    if (list) list.push(opening);
    else out.set(opening.wall, [opening]);
  }
  return out;
}

/** Everything about a face that its own walls tell. `before` is the joint at its left-hand end. */
export function makeFace(
  storey: Id,
  course: Course,
  before: Joint,
  openings: ReadonlyMap<Id, readonly Opening[]>,
): FaceDraft {
  const { a, b, strips } = course;
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const first = strips[0] as Strip;
  const ends = { left: endOf(before), right: endOf(course.joint) };
  if (isCap(first)) {
    const z = wallTopAt(first.frame, first.part === 'to' ? first.frame.length : 0);
    const top = [
      { u: 0, z },
      { u: length, z },
    ];
    const flat = { pieces: [], builds: [], openings: [], sloped: false };
    return {
      face: { storey, a, b, length, top, ...flat },
      ...ends,
      home: `${first.frame.id}.${first.part}`,
      along: 0,
    };
  }
  const { pieces, frames } = piecesOf(course, length);
  const top = topOf(pieces, frames);
  const one = pieces[0] as FacePiece;
  return {
    face: {
      storey,
      a,
      b,
      length,
      pieces,
      builds: pieces.map((piece, i) => faceBuild(frames[i] as WallFrame, piece.side)),
      top,
      sloped: top.some((p) => Math.abs(p.z - (top[0] as FacePoint).z) > EPS),
      openings: pieces.flatMap((piece, i) =>
        (openings.get(piece.wall) ?? []).flatMap((o) => clipOpening(o, piece, frames[i] as WallFrame)),
      ),
    },
    ...ends,
    home: `${one.wall}.${one.side}`,
    along: Math.min(one.alongAtU0, one.alongAtU1),
  };
}

function endOf(joint: Joint): Pick<FaceEnd, 'kind' | 'angle'> {
  const bend = joint.angle - Math.PI;
  const kind = joint.free
    ? 'free'
    : Math.abs(bend) < LEAST_ANGLE
      ? 'straight'
      : bend < 0
        ? 'internal'
        : 'external';
  return { kind, angle: joint.angle };
}

/** One piece per wall side, in u order, without gaps; strips swallowed at the ends are left out. */
function piecesOf(
  course: Course,
  length: Mm,
): { readonly pieces: FacePiece[]; readonly frames: WallFrame[] } {
  const { a, b, strips } = course;
  const dir: PlanPoint = { x: (b.x - a.x) / length, y: (b.y - a.y) / length };
  const bounds: { readonly frame: WallFrame; readonly side: Side; readonly u1: Mm }[] = [];
  strips.forEach((strip, i) => {
    const side = strip.part as Side;
    const next = strips[i + 1] ?? strip;
    // Between where this strip ends and the next begins, so that a mirrored plan gives the same.
    const ends = [stripPoint(strip, strip.s1), stripPoint(next, next.s0)];
    const seam = ends.reduce((sum, p) => sum + vectorDot(vectorSub(p, a), dir) / 2, 0);
    const u1 = i === strips.length - 1 ? length : Math.min(Math.max(seam, 0), length);
    const last = bounds[bounds.length - 1];
    if (last && last.frame === strip.frame && last.side === side) bounds.pop();
    bounds.push({ frame: strip.frame, side, u1 });
  });
  const pieces: FacePiece[] = [];
  const frames: WallFrame[] = [];
  let u0: Mm = 0;
  bounds.forEach(({ frame, side, u1 }, i) => {
    const lastOne = i === bounds.length - 1;
    if (u1 - u0 <= EPS && !(lastOne && pieces.length === 0)) return;
    const along = (u: Mm): Mm =>
      vectorDot(vectorSub({ x: a.x + dir.x * u, y: a.y + dir.y * u }, frame.from), frame.dir);
    pieces.push({ wall: frame.id, side, u0, u1, alongAtU0: along(u0), alongAtU1: along(u1) });
    frames.push(frame);
    u0 = u1;
  });
  const end = pieces[pieces.length - 1] as FacePiece;
  if (end.u1 < length) pieces[pieces.length - 1] = { ...end, u1: length };
  return { pieces, frames };
}

function topOf(pieces: readonly FacePiece[], frames: readonly WallFrame[]): FacePoint[] {
  const out: FacePoint[] = [];
  const put = (p: FacePoint): void => {
    const last = out[out.length - 1];
    if (last && Math.abs(last.u - p.u) <= EPS && Math.abs(last.z - p.z) <= EPS) return;
    const before = out[out.length - 2];
    // A corner in line with its neighbours is no corner.
    if (before && last && last.u - before.u > EPS && p.u - last.u > EPS) {
      const straight = before.z + ((last.u - before.u) / (p.u - before.u)) * (p.z - before.z);
      if (Math.abs(straight - last.z) <= EPS) out.pop();
    }
    out.push(p);
  };
  pieces.forEach((piece, i) => {
    const frame = frames[i] as WallFrame;
    put({ u: piece.u0, z: wallTopAt(frame, piece.alongAtU0) });
    put({ u: piece.u1, z: wallTopAt(frame, piece.alongAtU1) });
  });
  return out;
}

/** Seen from a side: nearest a cable of that side may come to this surface and to the other one. */
export function faceBuild(frame: WallFrame, side: Side): FaceBuild {
  const { buildUp, wall } = frame;
  const made: Side = wall.flipped ? (side === 'left' ? 'right' : 'left') : side;
  const outward = made === 'left' ? buildUp.layers : buildUp.layers.toReversed();
  const drawn = Math.min(Math.max(buildUp.cableLayer[made], 0), outward.length - 1);
  const index = made === 'left' ? drawn : outward.length - 1 - drawn;
  const coverNear = outward.slice(0, index).reduce((sum, layer) => sum + layer.thickness, 0);
  const coverFar = outward.slice(index + 1).reduce((sum, layer) => sum + layer.thickness, 0);
  return {
    wall: frame.id,
    buildUp: buildUp.id,
    thickness: frame.thickness,
    metal: buildUp.frame === 'metal',
    masonry: buildUp.frame === 'masonry',
    coverNear,
    coverFar,
    tellsBehind: wall.toldFromBehind[side === 'left' ? 'right' : 'left'],
  };
}

function clipOpening(opening: Opening, piece: FacePiece, frame: WallFrame): FaceOpening[] {
  const lo = Math.max(Math.min(piece.alongAtU0, piece.alongAtU1), 0);
  const hi = Math.min(Math.max(piece.alongAtU0, piece.alongAtU1), frame.length);
  const cut = intervalOverlap({ lo, hi }, { lo: opening.along, hi: opening.along + opening.width });
  if (!cut || cut.hi - cut.lo <= EPS) return [];
  const rising = piece.alongAtU1 > piece.alongAtU0;
  const u = (along: Mm): Mm =>
    rising ? piece.u0 + (along - piece.alongAtU0) : piece.u0 + (piece.alongAtU0 - along);
  const z0 = Math.max(opening.sill, 0);
  const z1 = Math.min(opening.head, Math.max(wallTopAt(frame, cut.lo), wallTopAt(frame, cut.hi)));
  if (z1 - z0 <= EPS) return [];
  const [u0, u1] = rising ? [u(cut.lo), u(cut.hi)] : [u(cut.hi), u(cut.lo)];
  return [{ id: opening.id, kind: opening.kind, u0, u1, z0, z1 }];
}

/** `wall.side.n`: n counts the faces that begin on that side of the wall, along it. */
export function nameFaces(rings: readonly (readonly FaceDraft[])[]): Map<FaceDraft, FaceId> {
  const homes = new Map<string, FaceDraft[]>();
  for (const draft of rings.flat()) {
    const list = homes.get(draft.home);
    if (list) list.push(draft);
    else homes.set(draft.home, [draft]);
  }
  const names = new Map<FaceDraft, FaceId>();
  for (const [home, list] of homes) {
    list.sort((a, b) => a.along - b.along);
    list.forEach((draft, n) => names.set(draft, `${home}.${n}`));
  }
  return names;
}

/** The same faces with what lies behind each. */
export function withOpposites(faces: readonly Omit<Face, 'opposite'>[]): Face[] {
  const sides = new Map<string, { readonly face: FaceId; readonly piece: FacePiece }[]>();
  for (const face of faces) {
    for (const piece of face.pieces) {
      const key = `${piece.wall}.${piece.side}`;
      const list = sides.get(key);
      if (list) list.push({ face: face.id, piece });
      else sides.set(key, [{ face: face.id, piece }]);
    }
  }
  return faces.map((face) => {
    const found: Opposite[] = [];
    for (const piece of face.pieces) {
      const behind = sides.get(`${piece.wall}.${piece.side === 'left' ? 'right' : 'left'}`) ?? [];
      for (const other of behind) {
        const part = opposite(piece, other.piece);
        if (part) found.push({ face: other.face, ...part });
      }
    }
    found.sort((a, b) => a.u0 - b.u0);
    const joined: Opposite[] = [];
    for (const next of found) {
      const last = joined[joined.length - 1];
      const runsOn =
        last &&
        last.face === next.face &&
        Math.abs(last.u1 - next.u0) <= EPS &&
        Math.abs(last.otherAtU1 - next.otherAtU0) <= EPS;
      if (runsOn) joined[joined.length - 1] = { ...last, u1: next.u1, otherAtU1: next.otherAtU1 };
      else joined.push(next);
    }
    return { ...face, opposite: joined };
  });
}

function opposite(piece: FacePiece, behind: FacePiece): Omit<Opposite, 'face'> | null {
  const range = (p: FacePiece) => ({
    lo: Math.min(p.alongAtU0, p.alongAtU1),
    hi: Math.max(p.alongAtU0, p.alongAtU1),
  });
  const both = intervalOverlap(range(piece), range(behind));
  if (!both || both.hi - both.lo <= EPS) return null;
  const u = (p: FacePiece, along: Mm): Mm =>
    p.u0 + ((along - p.alongAtU0) / (p.alongAtU1 - p.alongAtU0)) * (p.u1 - p.u0);
  const rising = piece.alongAtU1 > piece.alongAtU0;
  const [start, end] = rising ? [both.lo, both.hi] : [both.hi, both.lo];
  return {
    u0: u(piece, start),
    u1: u(piece, end),
    otherAtU0: u(behind, start),
    otherAtU1: u(behind, end),
  };
}

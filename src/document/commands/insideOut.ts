import { buildFabric } from '../../engine/fabric/build.ts';
import type { Fabric } from '../../engine/fabric/types.ts';
import type { BuildUp, Id, Material, PlanDocument, Side } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { fabricsOf } from './keepRight.ts';

/** How far towards the weather a material's place is when it is the last of a wall; others lie between. */
const WEATHER: Readonly<Partial<Record<Material, number>>> = {
  plasterboard: 0,
  plaster: 0,
  'insulated-board': 0,
  dab: 0,
  sheathing: 2,
  membrane: 2,
  cavity: 2,
  cladding: 3,
};
const BETWEEN = 1;

/**
 * The side of a build-up, as its layers are listed, that is made to face a room: the one lined while the other is not,
 * or whose other side is clad. Null where both sides end alike, so that nothing tells them apart.
 */
export function insideOf(build: Pick<BuildUp, 'layers'>): Side | null {
  const first = build.layers[0];
  const last = build.layers[build.layers.length - 1];
  if (!first || !last) return null;
  const left = WEATHER[first.material] ?? BETWEEN;
  const right = WEATHER[last.material] ?? BETWEEN;
  return left === right ? null : left < right ? 'left' : 'right';
}

/**
 * Walls that stand the wrong way round now that a room has closed: on one side a room, on the other none, and their
 * weather side to the room. Only walls that bordered no room before: what the person turned since is theirs.
 */
export function turnedOut(before: PlanDocument, now: PlanDocument, storey: Id): Id[] {
  const built = rows(now.walls).filter((w) => w.storey === storey);
  const sides = new Map(rows(now.buildUps).map((b) => [b.id, insideOf(b)]));
  if (built.every((w) => (sides.get(w.buildUp) ?? null) === null)) return [];
  const fabric = buildFabric(now, storey);
  const old = fabricsOf(before).get(storey);
  if (fabric.rooms.size <= (old?.rooms.size ?? 0)) return [];
  const known = old ? roomsBySide(old) : new Map<string, ReadonlySet<boolean>>();
  const open = roomsBySide(fabric);
  return built
    .filter((wall) => {
      const inside = sides.get(wall.buildUp) ?? null;
      if (inside === null) return false;
      const was = (side: Side) => known.get(`${wall.id}.${side}`)?.has(true) === true;
      if (was('left') || was('right')) return false;
      const [left, right] = [wholly(open, wall.id, 'left'), wholly(open, wall.id, 'right')];
      const room =
        left === 'room' && right === 'out' ? 'left' : left === 'out' && right === 'room' ? 'right' : null;
      return room !== null && room !== (wall.flipped ? opposite(inside) : inside);
    })
    .map((wall) => wall.id);
}

const opposite = (side: Side): Side => (side === 'left' ? 'right' : 'left');

/** For each side of a wall, whether its faces look into a room. */
function roomsBySide(fabric: Fabric): Map<string, Set<boolean>> {
  const found = new Map<string, Set<boolean>>();
  for (const face of fabric.faces.values()) {
    for (const piece of face.pieces) {
      const key = `${piece.wall}.${piece.side}`;
      found.set(key, (found.get(key) ?? new Set()).add(face.room !== null));
    }
  }
  return found;
}

function wholly(
  looks: ReadonlyMap<string, ReadonlySet<boolean>>,
  wall: Id,
  side: Side,
): 'room' | 'out' | 'mixed' {
  const seen = looks.get(`${wall}.${side}`);
  if (!seen || seen.size === 0) return 'mixed';
  return seen.size === 2 ? 'mixed' : seen.has(true) ? 'room' : 'out';
}

import type { Id, PlanDocument } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import { command, nextId, put, refuse } from '../transact.ts';
import type { Command } from '../types.ts';
import { nodeAt } from './joints.ts';
import type { Line } from './plane.ts';
import { centreLine, distance, JOIN_TOLERANCE, pointAlong, project, SHORTEST_WALL, sound } from './plane.ts';
import { turnOuterWalls } from './turnOuterWalls.ts';

export interface TapedRoom {
  readonly storey: Id;
  /** Corners of the walls' centre lines, one after the other; the last is joined to the first. */
  readonly corners: readonly PlanPoint[];
  readonly buildUp: Id;
  /** Empty for none. */
  readonly name: string;
  /** A spot inside, for the name. */
  readonly middle: PlanPoint;
}

/**
 * Walls all round a room. Where a wall of the plan stands along a side already, that one is shared and none is drawn twice.
 * Made: the new walls.
 */
export function addTapedRoom({ storey, corners, buildUp, name, middle }: TapedRoom): Command {
  return command(name === '' ? 'Add room' : `Add ${name}`, (draft, step) => {
    const { doc } = step;
    if (!doc.storeys.byId[storey]) return refuse('That storey is no longer in the plan.');
    if (!doc.buildUps.byId[buildUp]) return refuse('That build-up is no longer in the list.');
    if (corners.length < 3) return refuse('A room needs three walls at least.');
    if (![...corners, middle].every((p) => sound(p.x, p.y))) return refuse('That spot is not on the plan.');
    const sides = corners.map((a, i): Line => ({ a, b: corners[(i + 1) % corners.length] as PlanPoint }));
    if (sides.some((s) => distance(s.a, s.b) < SHORTEST_WALL))
      return refuse(`A wall is at least ${SHORTEST_WALL} mm long.`);
    const made: { readonly id: Id; readonly at: PlanPoint }[] = [];
    const nodeOf = (at: PlanPoint): Id => {
      const there = nodeAt(doc, storey, at) ?? made.find((m) => distance(m.at, at) <= JOIN_TOLERANCE)?.id;
      if (there) return there;
      const id = nextId(draft, 'nodes');
      put(draft, 'nodes', { id, storey, x: at.x, y: at.y });
      made.push({ id, at });
      return id;
    };
    for (const { a, b } of sides.flatMap((side) => bareParts(doc, storey, side))) {
      const id = nextId(draft, 'walls');
      put(draft, 'walls', {
        id,
        storey,
        from: nodeOf(a),
        to: nodeOf(b),
        buildUp,
        flipped: false,
        top: { kind: 'ceiling' },
        toldFromBehind: { left: null, right: null },
      });
      step.made(id);
    }
    if (draft.walls.order.length === doc.walls.order.length)
      return refuse('Walls stand all round there already.');
    if (name !== '') {
      const id = nextId(draft, 'roomTags');
      put(draft, 'roomTags', { id, storey, x: middle.x, y: middle.y, name, use: 'other' });
    }
    turnOuterWalls(draft, step, storey);
  });
}

/** The parts of a side along which no wall stands yet. */
function bareParts(doc: PlanDocument, storey: Id, side: Line): Line[] {
  let free: (readonly [Mm, Mm])[] = [[0, distance(side.a, side.b)]];
  for (const wall of rows(doc.walls)) {
    if (wall.storey !== storey) continue;
    const line = centreLine(doc, wall.id);
    const [p, q] = [project(side, line.a), project(side, line.b)];
    if (p.off > JOIN_TOLERANCE || q.off > JOIN_TOLERANCE) continue;
    const [from, to] = [Math.min(p.along, q.along), Math.max(p.along, q.along)];
    free = free.flatMap(([lo, hi]): (readonly [Mm, Mm])[] =>
      to <= lo || from >= hi
        ? [[lo, hi]]
        : [
            [lo, from],
            [to, hi],
          ],
    );
  }
  return free
    .filter(([lo, hi]) => hi - lo >= SHORTEST_WALL)
    .map(([lo, hi]) => ({ a: pointAlong(side, lo), b: pointAlong(side, hi) }));
}

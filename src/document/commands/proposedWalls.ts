import type { Id, Opening, PlanDocument } from '../../engine/model/document.ts';
import type { ProposedOpening } from '../../engine/model/proposedWall.ts';
import type { Mm } from '../../engine/model/units.ts';
import { command, nextId, put, refuse } from '../transact.ts';
import type { Command } from '../types.ts';
import type { JoinedWall, WallToBuild } from './joinProposed.ts';
import { joinProposed } from './joinProposed.ts';
import { distance, pointAlong, project, sound } from './plane.ts';
import { turnOuterWalls } from './turnOuterWalls.ts';

/** How high a gap is taken to be, where the wall is: a drawing from above does not say. Own choice, that of openings drawn. */
const HEAD: Mm = 2100;
/** A narrower gap is a slip of the drawing. Own choice. */
const NARROWEST: Mm = 300;

/**
 * Builds walls that a drawing was found to show (plan mm), with their gaps as plain openings: joined to one another and to
 * what stands, as one step. Those that stand already are left out and counted. Made: the walls, then the openings.
 */
export function addProposedWalls(storey: Id, walls: readonly WallToBuild[]): Command {
  return command(walls.length === 1 ? 'Accept proposed wall' : 'Accept proposed walls', (draft, step) => {
    const { doc } = step;
    if (!doc.storeys.byId[storey]) return refuse('That storey is no longer in the plan.');
    if (walls.length === 0) return refuse('No proposed wall is ticked.');
    if (walls.some((w) => !doc.buildUps.byId[w.buildUp]))
      return refuse('That build-up is no longer in the list.');
    if (!walls.every((w) => sound(w.a.x, w.a.y, w.b.x, w.b.y, w.thickness)))
      return refuse('A proposed wall lies beyond what a plan can hold.');
    const joined = joinProposed(doc, storey, walls);
    if (joined.length === 0) return refuse('Walls stand in all these places already.');
    const nodes = new Map<JoinedWall['from'], Id>();
    const nodeOf = (joint: JoinedWall['from']): Id => {
      const known = joint.node ?? nodes.get(joint);
      if (known !== undefined) return known;
      const id = nextId(draft, 'nodes');
      put(draft, 'nodes', { id, storey, ...joint.at });
      nodes.set(joint, id);
      return id;
    };
    const openings: Omit<Opening, 'id'>[] = [];
    for (const wall of joined) {
      const id = nextId(draft, 'walls');
      put(draft, 'walls', {
        id,
        storey,
        from: nodeOf(wall.from),
        to: nodeOf(wall.to),
        buildUp: wall.of.buildUp,
        flipped: false,
        top: { kind: 'ceiling' },
        toldFromBehind: { left: null, right: null },
      });
      step.made(id);
      openings.push(...openingsOf(doc, storey, id, wall));
    }
    for (const opening of openings) {
      const id = nextId(draft, 'openings');
      put(draft, 'openings', { ...opening, id });
      step.made(id);
    }
    const left = walls.filter((w) => !joined.some((j) => j.of === w)).length;
    if (left > 0)
      step.note(
        `${left} of ${walls.length} were left out: walls stand there already, or they were too short.`,
      );
    turnOuterWalls(draft, step, storey);
  });
}

/** The gaps of a proposed wall that lie in this piece of it, one after the other. */
function openingsOf(doc: PlanDocument, storey: Id, wall: Id, piece: JoinedWall): Omit<Opening, 'id'>[] {
  const line = { a: piece.from.at, b: piece.to.at };
  const length = distance(line.a, line.b);
  const made: Omit<Opening, 'id'>[] = [];
  const gap = (o: ProposedOpening): { readonly from: Mm; readonly to: Mm } => {
    const ends = [o.along, o.along + o.width].map(
      (along) => project(line, pointAlong(piece.of, along)).along,
    );
    return { from: Math.max(0, Math.min(...ends)), to: Math.min(length, Math.max(...ends)) };
  };
  let free = 0;
  for (const { from, to } of piece.of.openings.map(gap).sort((a, b) => a.from - b.from)) {
    if (to - from < NARROWEST || from < free) continue;
    const head = Math.min(HEAD, doc.storeys.byId[storey]?.ceilingHeight ?? HEAD);
    made.push({ wall, kind: 'opening', along: from, width: to - from, sill: 0, head });
    free = to;
  }
  return made;
}

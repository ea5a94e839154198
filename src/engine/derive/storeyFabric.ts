import { buildFabric } from '../fabric/build.ts';
import type { Fabric } from '../fabric/types.ts';
import { ask, type Derivation } from '../memo/derivation.ts';
import { same } from '../memo/same.ts';
import type { Id, Opening, PlanDocument, RoomTag, Wall } from '../model/document.ts';
import { tableFrom } from '../model/defaults.ts';
import { rows } from '../model/tables.ts';
import { sameEntries } from './readFabric.ts';

interface OnStorey {
  readonly walls: readonly Wall[];
  readonly openings: readonly Opening[];
  readonly roomTags: readonly RoomTag[];
}

// So that a wall of one storey leaves the others alone.
const ON_STOREY: Derivation<PlanDocument, OnStorey> = {
  name: 'walls of a storey',
  work: (doc, storey) => {
    const walls = rows(doc.walls).filter((w) => w.storey === storey);
    const ids = new Set(walls.map((w) => w.id));
    return {
      walls,
      openings: rows(doc.openings).filter((o) => ids.has(o.wall)),
      roomTags: rows(doc.roomTags).filter((t) => t.storey === storey),
    };
  },
};

/** The plan with the walls, openings and room names of one storey only. */
function narrowed(doc: PlanDocument, storey: Id): PlanDocument {
  const { walls, openings, roomTags } = ask(doc, ON_STOREY, storey);
  return Object.create(doc, {
    walls: { value: tableFrom(walls) },
    openings: { value: tableFrom(openings) },
    roomTags: { value: tableFrom(roomTags) },
  }) as PlanDocument;
}

function keepEqual<V>(now: ReadonlyMap<string, V>, before: ReadonlyMap<string, V>): ReadonlyMap<string, V> {
  const kept = new Map<string, V>();
  for (const [id, value] of now) {
    const old = before.get(id);
    kept.set(id, old !== undefined && same(old, value) ? old : value);
  }
  return sameEntries(kept, before) ? before : kept;
}

/** A storey's fabric built again; faces and rooms that came out the same are the old ones, and so is the whole. */
export function buildAgain(doc: PlanDocument, storey: Id, before: Fabric | undefined): Fabric {
  const built = buildFabric(narrowed(doc, storey), storey);
  if (before === undefined) return built;
  const faces = keepEqual(built.faces, before.faces);
  const rooms = keepEqual(built.rooms, before.rooms);
  const outside = same(built.outside, before.outside) ? before.outside : built.outside;
  const all = faces === before.faces && rooms === before.rooms && outside === before.outside;
  return all ? before : { ...built, faces, rooms, outside };
}

import { alongOfU } from '../fabric/lookup.ts';
import type { Fabric, Face, FaceId } from '../fabric/types.ts';
import type { PlanDocument, Thing } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { STUD_CENTRES } from '../takeoff/straights.ts';
import { holds, ROUNDING } from '../zones/convex.ts';
import { legalAreas, type RunFacts, type ZoneContext } from '../zones/surfaces.ts';
import { keptClear } from '../zones/wholeWidth.ts';
import { isCovered, isCrossed, legalIntervals } from './coverage.ts';
import { addCrossing, addStraight, type LineNet } from './lineNet.ts';

/** Lines and crossings nearer than this are one. */
const SAME: Mm = 0.01;

/** Things no cable is led behind or through. */
export const BLOCKS: ReadonlySet<Thing['kind']> = new Set([
  'no-cable',
  'unit',
  'radiator',
  'bracket',
  'bath',
  'shower',
  'shower-head',
  'hot-pipe',
  'gas-pipe',
  'beam',
  'polystyrene',
]);

/** Rectangles of a face no line may cross: openings, and things that stand or will be screwed there. */
export interface Blocked {
  readonly u0: Mm;
  readonly u1: Mm;
  readonly z0: Mm;
  readonly z1: Mm;
  readonly what: string;
}

/** What blocks lines on each face. */
export function blockedOn(doc: PlanDocument, fabric: Fabric): Map<FaceId, Blocked[]> {
  const found = new Map<FaceId, Blocked[]>();
  for (const face of fabric.faces.values()) {
    const list: Blocked[] = face.openings.map((o) => ({ ...o, what: `a ${o.kind}` }));
    for (const thing of rows(doc.things)) {
      if (thing.place.on !== 'face' || !BLOCKS.has(thing.kind)) continue;
      for (const piece of face.pieces) {
        if (piece.wall !== thing.place.wall || piece.side !== thing.place.side) continue;
        const span = piece.alongAtU1 - piece.alongAtU0;
        const toU = (along: Mm): Mm =>
          piece.u0 + ((along - piece.alongAtU0) / (span === 0 ? 1 : span)) * (piece.u1 - piece.u0);
        const ends = [toU(thing.place.along0), toU(thing.place.along1)].sort((a, b) => a - b);
        const u0 = Math.max(piece.u0, ends[0] as Mm);
        const u1 = Math.min(piece.u1, ends[1] as Mm);
        if (u1 - u0 > ROUNDING)
          list.push({ u0, u1, z0: thing.place.z0, z1: thing.place.z1, what: thing.name || thing.kind });
      }
    }
    found.set(face.id, list);
  }
  return found;
}

/** Sorted, near-equal values joined. */
export function distinct(values: readonly Mm[]): Mm[] {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted.filter((v, i) => i === 0 || v - (sorted[i - 1] as Mm) > SAME);
}

/** Centre lines of a face's own permitted zones: plumb lines by u, level lines by z. */
export interface CentreLines {
  readonly us: readonly Mm[];
  readonly zs: readonly Mm[];
}

/** Centre lines of the permitted zones that stand on a face; strips and angle bands plumb, strips and top bands level. */
export function centreLines(ctx: ZoneContext, face: Face): CentreLines {
  const us: Mm[] = [];
  const zs: Mm[] = [];
  for (const zone of ctx.zones.get(face.id) ?? []) {
    if (zone.status !== 'permitted' && !zone.unasked) continue;
    if (zone.source === 'top' || zone.source === 'level') zs.push((zone.z0 + zone.z1) / 2);
    else us.push((zone.u0 + zone.u1) / 2);
  }
  return { us, zs };
}

/** The crossings of one face, by (u, z), for links to other surfaces. */
export interface FaceGrid {
  readonly face: Face;
  readonly us: readonly Mm[];
  readonly zs: readonly Mm[];
  /** Crossing number, or -1 where that spot is not legal. */
  readonly at: (u: Mm, z: Mm) => number;
}

const indexOf = (values: readonly Mm[], value: Mm): number =>
  values.findIndex((v) => Math.abs(v - value) <= SAME);

/**
 * Adds the legal lines of a face to the net: every crossing of the given plumb and level lines that is legal seen from
 * both surfaces, joined where the whole stretch between is legal across the whole width of the cable and crosses no opening and nothing that stands there.
 * `levelExtra`: points on top for each level metre, for ways that should keep to the voids.
 */
export function addFaceLines(
  net: LineNet,
  ctx: ZoneContext,
  fabric: Fabric,
  face: Face,
  facts: RunFacts,
  lines: CentreLines,
  blocked: readonly Blocked[],
  levelExtra: number,
): FaceGrid {
  const half = facts.width / 2;
  const areas = legalAreas(ctx, fabric, face, facts);
  const clear = (along: 'level' | 'plumb') => areas.flatMap((a) => keptClear(a, face, along, half) ?? []);
  const [level, plumb] = [clear('level'), clear('plumb')];
  const us = distinct(lines.us.map((u) => Math.min(face.length, Math.max(0, u))));
  const top = Math.max(...face.top.map((p) => p.z));
  const zs = distinct(lines.zs.filter((z) => z >= 0 && z <= top + ROUNDING));
  const cells = new Int32Array(us.length * zs.length).fill(-1);
  us.forEach((u, i) =>
    zs.forEach((z, j) => {
      const spot = { u, z };
      const inBlock = blocked.some(
        (b) => u > b.u0 + ROUNDING && u < b.u1 - ROUNDING && z > b.z0 + ROUNDING && z < b.z1 - ROUNDING,
      );
      if (!inBlock && [...level, ...plumb].some((area) => holds(area, spot, ROUNDING))) {
        cells[i * zs.length + j] = addCrossing(net, {
          on: 'face',
          face: face.id,
          storey: face.storey,
          u,
          z,
        });
      }
    }),
  );
  const build = (u: Mm) =>
    face.builds[face.pieces.findIndex((p) => u >= p.u0 && u <= p.u1)] ?? face.builds[0];
  const join = (a: number, b: number, heading: 0 | 1, length: Mm, middle: Mm): void => {
    const made = build(middle);
    const timber = made !== undefined && !made.metal && !made.masonry;
    const count = {
      metres: length / 1000,
      chaseMetres: made?.masonry === true ? length / 1000 : 0,
      timberHoles: heading === 0 && timber ? length / STUD_CENTRES : 0,
    };
    addStraight(net, a, b, heading, count, heading === 0 ? (levelExtra * length) / 1000 : 0);
  };
  zs.forEach((z, j) => {
    const free = legalIntervals({ u: 0, z }, { u: face.length, z }, level);
    const stops = blocked
      .filter((b) => z > b.z0 - half + ROUNDING && z < b.z1 + half - ROUNDING)
      .map((b) => ({ lo: b.u0, hi: b.u1 }));
    for (let i = 1; i < us.length; i += 1) {
      const a = cells[(i - 1) * zs.length + j] as number;
      const b = cells[i * zs.length + j] as number;
      const [u0, u1] = [us[i - 1] as Mm, us[i] as Mm];
      if (a < 0 || b < 0 || !isCovered(free, u0, u1) || isCrossed(stops, u0, u1)) continue;
      join(a, b, 0, u1 - u0, (u0 + u1) / 2);
    }
  });
  us.forEach((u, i) => {
    const free = legalIntervals({ u, z: 0 }, { u, z: top }, plumb);
    const stops = blocked
      .filter((b) => u > b.u0 - half + ROUNDING && u < b.u1 + half - ROUNDING)
      .map((b) => ({ lo: b.z0, hi: b.z1 }));
    for (let j = 1; j < zs.length; j += 1) {
      const a = cells[i * zs.length + j - 1] as number;
      const b = cells[i * zs.length + j] as number;
      const [z0, z1] = [zs[j - 1] as Mm, zs[j] as Mm];
      if (a < 0 || b < 0 || !isCovered(free, z0, z1) || isCrossed(stops, z0, z1)) continue;
      join(a, b, 1, z1 - z0, u);
    }
  });
  return {
    face,
    us,
    zs,
    at: (u, z) => {
      const i = indexOf(us, u);
      const j = indexOf(zs, z);
      return i < 0 || j < 0 ? -1 : (cells[i * zs.length + j] as number);
    },
  };
}

/** The place of a spot of a face. Throws on an end cap, which carries no lines. */
export function facePlaceAt(face: Face, u: Mm, z: Mm) {
  const spot = alongOfU(face, u);
  if (spot === null) throw new Error(`face ${face.id} has no wall side`);
  return { on: 'face', ...spot, z } as const;
}

import { sourceOf } from '../../electrical/tables/cited.ts';
import { BOX_OUTSIDE } from '../../electrical/tables/siting.ts';
import type { Face, Opposite } from '../../fabric/types.ts';
import type { Id, Point } from '../../model/document.ts';
import { find } from '../../model/tables.ts';
import type { Mm } from '../../model/units.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { faceName, mm, placeOfPoint, pointName } from '../words.ts';

/** Less than this is rounding, mm. */
const ROUNDING: Mm = 0.5;

/** A box let into a wall, where it is on its own face. */
interface Sunk {
  readonly point: Point;
  readonly u: Mm;
  readonly z: Mm;
  readonly width: Mm;
  readonly depth: Mm;
  /** Thickness of the stoutest cable that comes to it. */
  readonly cable: Mm;
}

function sunkAt(ctx: CheckContext, id: Id): Sunk[] {
  const [point, spot] = [find(ctx.doc, 'points', id), ctx.spots.get(id)];
  const box = find(ctx.doc, 'boxes', point?.box?.box ?? null);
  if (point === undefined || spot === undefined || box === undefined) return [];
  const cables = (ctx.pointRuns.get(id) ?? []).flatMap(
    (run) => find(ctx.doc, 'cables', ctx.doc.runs.byId[run]?.cable ?? null)?.height ?? [],
  );
  return [
    {
      point,
      u: spot.u,
      z: spot.z,
      width: BOX_OUTSIDE.values[box.gangs],
      depth: box.depth,
      cable: Math.max(0, ...cables),
    },
  ];
}

/** u on this face of what is at `v` on the face behind it; null where that is not behind this stretch. */
function seenFromHere({ u0, u1, otherAtU0, otherAtU1 }: Opposite, v: Mm): Mm | null {
  const span = otherAtU1 - otherAtU0;
  const t = span === 0 ? -1 : (v - otherAtU0) / span;
  return t < 0 || t > 1 ? null : u0 + t * (u1 - u0);
}

const thicknessAt = (face: Face, u: Mm): Mm | null =>
  face.builds[face.pieces.findIndex((piece) => u >= piece.u0 && u <= piece.u1)]?.thickness ?? null;

/** What is told of two boxes, `b` seen from the face of `a`. */
function meeting(ctx: CheckContext, face: Face, a: Sunk, b: Sunk): Draft[] {
  const inU = (a.width + b.width) / 2 - Math.abs(a.u - b.u);
  const inZ = BOX_OUTSIDE.values[1] - Math.abs(a.z - b.z);
  const wall = thicknessAt(face, a.u);
  const cable = Math.max(a.cable, b.cable);
  const needs = a.depth + b.depth + cable;
  if (wall === null || Math.min(inU, inZ) <= ROUNDING || needs <= wall + ROUNDING) return [];
  return [
    {
      about: `${b.point.id}:${a.point.id}`,
      point: a.point.id,
      at: placeOfPoint(ctx, a.point),
      message: `The ${pointName(a.point)} and the ${pointName(b.point)} are back to back, on ${faceName(ctx, face.storey, face.id)}: boxes ${a.depth} and ${b.depth} mm deep${cable > 0 ? ` and ${cable} mm of cable` : ''} take ${mm(needs)}; the wall is ${mm(wall)} from surface to surface.`,
      fix: `Move one of them ${mm(inU)} along the wall or more, or use shallower boxes if their fittings allow it.`,
    },
  ];
}

/** Boxes on both sides of one spot of a wall that are deeper together than the wall is thick. */
export const boxesBackToBack: Rule<'face'> = {
  id: 'boxes-back-to-back',
  title: 'Boxes back to back, deeper than the wall',
  looksAt: 'face',
  severity: 'warning',
  stage: 'points',
  source: () => sourceOf(BOX_OUTSIDE),
  find: (ctx, { storey, face: id }) => {
    const face = ctx.fabrics.get(storey)?.faces.get(id);
    const here = (ctx.facePoints.get(id) ?? []).flatMap((point) => sunkAt(ctx, point));
    if (face === undefined || here.length === 0) return [];
    return face.opposite.flatMap((behind) =>
      (ctx.facePoints.get(behind.face) ?? [])
        .flatMap((point) => sunkAt(ctx, point))
        .flatMap((there) => {
          const u = seenFromHere(behind, there.u);
          // Of the two points one only is told of: not by their faces, whose names hang on how the plan lies.
          const mine = here.filter((box) => box.point.id > there.point.id);
          return u === null ? [] : mine.flatMap((box) => meeting(ctx, face, box, { ...there, u }));
        }),
    );
  },
};

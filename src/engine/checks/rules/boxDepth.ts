import { BOX_DEPTHS, BOX_OUTSIDE } from '../../electrical/tables/siting.ts';
import { sourceOf } from '../../electrical/tables/cited.ts';
import type { Box, PlateSize, Point } from '../../model/document.ts';
import { remembered, type Source } from '../../model/evidence.ts';
import { boxGangs, plateOf, POINT_KINDS } from '../../model/pointKinds.ts';
import { find } from '../../model/tables.ts';
import type { Mm } from '../../model/units.ts';
import { COMMON_PRACTICE, type CheckContext, type Rule } from '../rule.ts';
import { mm, placeOfPoint, pointName } from '../words.ts';

/** From these sizes on a cable counts as large, or as too stout for a standard box, mm²: own reading of the practice. */
const LARGE = 6;
const STOUT = 4;
/** Boxes for cookers and showers are sold 44 or 47 mm deep and either serves, mm: common practice. */
const HEAVY_LEAST: Mm = 44;

interface Needed {
  readonly depth: Mm;
  /** As it is told: "44 or 47". */
  readonly said: string;
  readonly why: string;
  readonly source: Source;
}

function depthFor(ctx: CheckContext, point: Point, mount: string): Needed {
  const { plateSwitch, standard, dryLining, heavy } = BOX_DEPTHS.values;
  const cables = (ctx.pointRuns.get(point.id) ?? []).flatMap(
    (id) => find(ctx.doc, 'cables', ctx.doc.runs.byId[id]?.cable ?? null) ?? [],
  );
  const largest = Math.max(0, ...cables.filter((c) => c.use === 'power').map((c) => c.csa));
  const listed = (depth: Mm, why: string): Needed => ({
    depth,
    said: `${depth}`,
    why,
    source: sourceOf(BOX_DEPTHS),
  });
  const deep = (why: string): Needed => ({
    depth: HEAVY_LEAST,
    said: `${HEAVY_LEAST} or ${heavy}`,
    why,
    source: remembered(
      `${BOX_DEPTHS.source}: ${heavy} mm; ${HEAVY_LEAST} mm boxes are sold for the same, common practice`,
    ),
  });
  if (point.kind === 'heavy-outlet') return deep('a heavy outlet');
  if (largest >= LARGE) return deep(`${largest} mm² cable`);
  if (largest >= STOUT)
    return { ...listed(dryLining, `${largest} mm² cable`), source: remembered('common practice') };
  if (mount === 'dry-lining') return listed(dryLining, 'a dry-lined wall');
  return POINT_KINDS[point.kind].isSwitch
    ? listed(plateSwitch, 'a plate switch')
    : listed(standard, `a ${POINT_KINDS[point.kind].name.toLowerCase()}`);
}

/** From this width on a plate is made for a two-gang box, mm: memory, BS 4662. */
const TWO_GANG_PLATE: Mm = 146;

const gangWords = (gangs: 1 | 2): string => (gangs === 2 ? 'two-gang' : 'one-gang');

/** What is wrong between a plate and its box, or null. A typed plate goes by its width, another by its gangs. */
function misfit(point: Point, plate: PlateSize, box: Box): string | null {
  const typed = point.plate !== null && POINT_KINDS[point.kind].plateUsual;
  const outside = BOX_OUTSIDE.values[box.gangs];
  if (typed && plate.width < outside)
    return `a plate ${plate.width} mm wide over a ${gangWords(box.gangs)} box of ${outside} mm: it does not cover it`;
  const wide = plate.width >= TWO_GANG_PLATE ? 2 : box.gangs;
  const needs = typed ? wide : boxGangs(point.kind, point.gangs);
  return box.gangs === needs
    ? null
    : `a plate ${plate.width} mm wide, for a ${gangWords(needs)} box, and a ${gangWords(box.gangs)} box`;
}

/** A box of as many gangs as the plate that is to go on it. */
export const boxWrongGangs: Rule<'point'> = {
  id: 'box-gangs',
  title: 'Box and plate of different widths',
  looksAt: 'point',
  severity: 'warning',
  stage: 'points',
  source: COMMON_PRACTICE,
  find: (ctx, point) => {
    const box = find(ctx.doc, 'boxes', point.box?.box ?? null);
    const plate = plateOf(point);
    if (box === undefined || plate === null || box.mount === 'round' || !POINT_KINDS[point.kind].boxed)
      return [];
    const wrong = misfit(point, plate, box);
    if (wrong === null) return [];
    return [
      {
        about: point.id,
        point: point.id,
        at: placeOfPoint(ctx, point),
        message: `The ${pointName(point)} has ${wrong}.`,
        fix: 'Choose the box for its plate, or the other number of gangs.',
      },
    ];
  },
};

/** Depth of a box for the accessory, its wall and the cables that come in. */
export const boxDepth: Rule<'point'> = {
  id: 'box-too-shallow',
  title: 'Back box too shallow',
  looksAt: 'point',
  severity: 'warning',
  stage: 'points',
  source: () => sourceOf(BOX_DEPTHS),
  find: (ctx, point) => {
    const box = find(ctx.doc, 'boxes', point.box?.box ?? null);
    if (box === undefined || box.mount === 'round') return [];
    const { depth, said, why, source } = depthFor(ctx, point, box.mount);
    if (box.depth >= depth) return [];
    return [
      {
        about: point.id,
        source,
        point: point.id,
        at: placeOfPoint(ctx, point),
        message: `The ${pointName(point)} has a box ${mm(box.depth)} deep; ${why} takes ${said} mm.`,
        fix: 'Choose a deeper box, if the wall has the depth for it.',
      },
    ];
  },
};

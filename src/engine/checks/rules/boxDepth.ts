import { BOX_DEPTHS } from '../../electrical/tables/siting.ts';
import { sourceOf } from '../../electrical/tables/cited.ts';
import type { Point } from '../../model/document.ts';
import { POINT_KINDS } from '../../model/pointKinds.ts';
import { find } from '../../model/tables.ts';
import type { Mm } from '../../model/units.ts';
import type { CheckContext, Rule } from '../rule.ts';
import { mm, placeOfPoint, pointName } from '../words.ts';

/** From this size on a cable counts as large for its box, mm²: own reading of the practice. */
const LARGE = 6;

function depthFor(ctx: CheckContext, point: Point, mount: string): { depth: Mm; why: string } {
  const { plateSwitch, standard, dryLining, heavy } = BOX_DEPTHS.values;
  const cables = (ctx.pointRuns.get(point.id) ?? []).flatMap(
    (id) => find(ctx.doc, 'cables', ctx.doc.runs.byId[id]?.cable ?? null) ?? [],
  );
  if (point.kind === 'heavy-outlet') return { depth: heavy, why: 'a heavy outlet' };
  const large = cables.find((c) => c.use === 'power' && c.csa >= LARGE);
  if (large !== undefined) return { depth: heavy, why: `${large.csa} mm² cable` };
  if (mount === 'dry-lining') return { depth: dryLining, why: 'a dry-lined wall' };
  return POINT_KINDS[point.kind].isSwitch
    ? { depth: plateSwitch, why: 'a plate switch' }
    : { depth: standard, why: `a ${POINT_KINDS[point.kind].name.toLowerCase()}` };
}

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
    const { depth, why } = depthFor(ctx, point, box.mount);
    if (box.depth >= depth) return [];
    return [
      {
        about: point.id,
        point: point.id,
        at: placeOfPoint(ctx, point),
        message: `The ${pointName(point)} has a box ${mm(box.depth)} deep; ${why} takes ${depth} mm.`,
        fix: 'Choose a deeper box, if the wall has the depth for it.',
      },
    ];
  },
};

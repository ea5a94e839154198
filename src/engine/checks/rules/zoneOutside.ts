import type { Run } from '../../model/document.ts';
import type { FacePoint } from '../../model/units.ts';
import { factsOf, legalAreas } from '../../zones/surfaces.ts';
import { keptClear } from '../../zones/wholeWidth.ts';
import { parallelShift } from '../../zones/shift.ts';
import type { LegCheck, Stretch } from '../../zones/types.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { straightName, verbOf, wallStraights, type WallStraight } from '../straights.ts';
import { metres, mm, placeOnLeg, whereIsLeg } from '../words.ts';

interface Worst {
  readonly index: number;
  readonly check: LegCheck;
  readonly stretch: Stretch;
}

function worstOf(straight: WallStraight): Worst | null {
  let worst: Worst | null = null;
  for (const { index, check } of straight.legs) {
    for (const stretch of check.stretches) {
      if (stretch.answer !== 'outside') continue;
      if (worst === null || stretch.outsideMm > worst.stretch.outsideMm) worst = { index, check, stretch };
    }
  }
  return worst;
}

const up = (by: number) => `${mm(Math.abs(by))} ${by > 0 ? 'up' : 'down'}`;
const across = (by: number) => `${mm(Math.abs(by))} to the ${by > 0 ? 'right' : 'left'}`;

function position({ u, z }: FacePoint): string {
  return `${mm(u)} from the left-hand end of the wall and ${mm(z)} above the floor`;
}

const OTHERWISE =
  'or lay it 50 mm deep or more from both surfaces, or protect it as 522.6.204 says (earthed armour, conduit or trunking)';

/** Where the whole straight would be in a zone if it were moved sideways; else where its worst spot would. */
function fixOf(ctx: CheckContext, run: Run, straight: WallStraight, worst: Worst): string {
  const fabric = ctx.fabrics.get(worst.check.leg.storey);
  const face = fabric?.faces.get(worst.check.leg.face ?? '');
  const { fa, fb } = straight;
  if (fabric !== undefined && face !== undefined) {
    const facts = factsOf(ctx.doc, run);
    const along = Math.abs(fb.u - fa.u) > Math.abs(fb.z - fa.z) ? 'level' : 'plumb';
    const clear = legalAreas(ctx, fabric, face, facts).flatMap(
      (area) => keptClear(area, face, along, facts.width / 2) ?? [],
    );
    const shift = parallelShift(fa, fb, clear);
    if (shift?.along === 'z') {
      return `Move it ${up(shift.by)}, to ${mm(fa.z + shift.by)} above the floor; ${OTHERWISE}.`;
    }
    if (shift?.along === 'u') {
      return `Move it ${across(shift.by)}, to ${mm(fa.u + shift.by)} from the left-hand end of the wall; ${OTHERWISE}.`;
    }
  }
  const { nearest } = worst.stretch;
  return nearest === null
    ? `There is no permitted position on this wall: choose another way, ${OTHERWISE}.`
    : `The nearest permitted position for its worst spot is ${position(nearest)}; choose another way, ${OTHERWISE}.`;
}

function drafts(ctx: CheckContext, run: Run): Draft[] {
  const check = ctx.checks.get(run.id);
  if (check === undefined) return [];
  const { rcd30 } = factsOf(ctx.doc, run);
  const found: Draft[] = [];
  const told = new Set<number>();
  for (const straight of wallStraights(run, check)) {
    const worst = worstOf(straight);
    if (worst === null) continue;
    for (const { index } of straight.legs) told.add(index);
    const { stretch } = worst;
    const outside = straight.legs.flatMap((l) => l.check.stretches).filter((s) => s.answer === 'outside');
    const total = outside.reduce((sum, s) => sum + s.length, 0);
    const behind = stretch.surface === 'far' ? ' as seen from the other side of the wall' : '';
    const rcd = rcd30
      ? ' Its 30 mA RCD alone does not make that acceptable: less than 50 mm deep it needs the zone and the RCD.'
      : '';
    found.push({
      about: straight.about,
      run: run.id,
      leg: worst.index,
      wall: worst.check.leg.wall,
      at: placeOnLeg(ctx, worst.check, (stretch.t0 + stretch.t1) / 2),
      outsideMm: stretch.outsideMm,
      message: `${straightName(run, straight)} ${verbOf(straight, 'is', 'are')} ${mm(stretch.outsideMm)} outside the permitted zones${behind}, ${metres(total)} of it, ${whereIsLeg(ctx, worst.check)}.${rcd}`,
      fix: fixOf(ctx, run, straight, worst),
    });
  }
  check.legs.forEach((leg, index) => {
    if (leg.leg.kind !== 'through' || leg.answer !== 'outside') return;
    // The leg that comes to the hole is outside as well: one mistake, told once.
    if (told.has(index - 1) || told.has(index + 1)) return;
    const [stretch] = leg.stretches;
    found.push({
      about: `${run.id}:${leg.leg.stretch}:through`,
      run: run.id,
      leg: index,
      wall: leg.leg.wall,
      at: placeOnLeg(ctx, leg, 0),
      outsideMm: stretch?.outsideMm ?? 0,
      message: `Leg ${index + 1} of ${run.label} goes through the wall ${mm(stretch?.outsideMm ?? 0)} outside the permitted zones of one of its faces.`,
      fix: 'Go through where both faces have a permitted zone, such as within 150 mm of the top of the wall.',
    });
  });
  return found;
}

export const zoneOutside: Rule<'run'> = {
  id: 'zone-outside',
  title: 'Outside the permitted zones',
  looksAt: 'run',
  severity: 'error',
  stage: 'runs',
  source: (rules) => ({ text: `${rules.name} ${rules.zoneClause}`, rank: rules.zoneRank }),
  find: drafts,
};

import { LEVEL_ANGLE, LEVEL_TOLERANCE } from '../fabric/tolerances.ts';
import type { Fabric, Face, Leg } from '../fabric/types.ts';
import type { FacePoint, Mm, Radians } from '../model/units.ts';
import { clipSegment, ROUNDING, type Convex } from './convex.ts';
import {
  coverAt,
  farAreas,
  legalAreas,
  nearAreas,
  type Area,
  type Box,
  type RunFacts,
  type ZoneContext,
} from './surfaces.ts';
import type { Answer, Crossing, LegCheck, Stretch } from './types.ts';
import { edgeInOpening, wideLeg, withWholeWidth, type WideLeg } from './wholeWidth.ts';
import { worstSpot } from './worstSpot.ts';

/** How far a leg is from level or plumb, whichever is nearer, radians; 0 within the tolerance. */
export function offLevel(fa: FacePoint, fb: FacePoint): Radians {
  const du = Math.abs(fb.u - fa.u);
  const dz = Math.abs(fb.z - fa.z);
  const allowed = Math.max(LEVEL_TOLERANCE, Math.hypot(du, dz) * Math.sin(LEVEL_ANGLE));
  return Math.min(du, dz) <= allowed ? 0 : Math.atan2(Math.min(du, dz), Math.max(du, dz));
}

interface Cut {
  readonly t0: number;
  readonly t1: number;
  readonly area: Area;
}

function cutsOf(fa: FacePoint, fb: FacePoint, areas: readonly Area[]): Cut[] {
  const cuts: Cut[] = [];
  for (const area of areas) {
    const inside = clipSegment(fa, fb, area, ROUNDING);
    if (inside === null) continue;
    const cut = { t0: inside.t0, t1: inside.t1, area };
    // One permitted area that holds the whole leg says it all.
    if (area.status === 'permitted' && cut.t0 === 0 && cut.t1 === 1) return [cut];
    cuts.push(cut);
  }
  return cuts;
}

const RANK = { permitted: 0, disputed: 1 } as const;

/** The best standing at t: permitted, else disputed, else null, which is outside. */
function standingAt(cuts: readonly Cut[], t: number): Area | null {
  let best: Area | null = null;
  for (const { t0, t1, area } of cuts) {
    if (t < t0 || t > t1) continue;
    if (best === null || RANK[area.status] < RANK[best.status]) best = area;
    if (best.status === 'permitted') break;
  }
  return best;
}

type Verdict = Pick<Stretch, 'answer' | 'surface' | 'why'>;

/** The worse of the two surfaces decides. */
function verdict(near: Area | null, far: Area | null): Verdict {
  if (near === null) {
    return { answer: 'outside', surface: 'near', why: 'Outside the permitted zones of this face.' };
  }
  if (far === null) {
    return {
      answer: 'outside',
      surface: 'far',
      why: 'Outside the permitted zones as seen from the face behind.',
    };
  }
  if (near.status === 'disputed') return { answer: 'disputed', surface: 'near', why: near.why };
  if (far.status === 'disputed') {
    return { answer: 'disputed', surface: 'far', why: `As seen from the face behind: ${far.why}` };
  }
  return { answer: 'inside', surface: null, why: near.why };
}

/** Stretches of one verdict along the leg, without their distances. Reasons of joined parts are told one after the other. */
function verdictsAlong(
  cuts: readonly (readonly Cut[])[],
  length: Mm,
): (Verdict & { t0: number; t1: number })[] {
  const [near = [], far = []] = cuts;
  const ts = [0, 1];
  for (const list of cuts) for (const c of list) ts.push(c.t0, c.t1);
  ts.sort((x, y) => x - y);
  const found: (Verdict & { t0: number; t1: number; whys: string[] })[] = [];
  for (let i = 1; i < ts.length; i++) {
    const [lo, hi] = [ts[i - 1] as number, ts[i] as number];
    if (hi <= lo || ((hi - lo) * length <= ROUNDING && length > ROUNDING)) continue;
    const middle = (lo + hi) / 2;
    const v = verdict(standingAt(near, middle), standingAt(far, middle));
    const before = found.at(-1);
    if (before !== undefined && before.answer === v.answer && before.surface === v.surface) {
      before.t1 = hi;
      if (!before.whys.includes(v.why)) before.whys.push(v.why);
    } else {
      found.push({ ...v, t0: before?.t1 ?? 0, t1: hi, whys: [v.why] });
    }
  }
  const last = found.at(-1);
  if (last !== undefined) last.t1 = 1;
  return found.map(({ whys, ...stretch }) => ({ ...stretch, why: whys.join(' ') }));
}

/** Where the leg lies within openings of its face, or passes so near to one that an edge of the cable is in it. */
function crossingsOf(face: Face, fa: FacePoint, fb: FacePoint, length: Mm, wide: WideLeg | null): Crossing[] {
  return face.openings.flatMap((o): Crossing[] => {
    const outline = [
      { u: o.u0, z: o.z0 },
      { u: o.u1, z: o.z0 },
      { u: o.u1, z: o.z1 },
      { u: o.u0, z: o.z1 },
    ];
    const inside = clipSegment(fa, fb, { outline, u0: o.u0, u1: o.u1, z0: o.z0, z1: o.z1 }, -ROUNDING);
    if (inside !== null && (inside.t1 - inside.t0) * length > ROUNDING) {
      return [{ opening: o.id, ...inside, edgeMm: null }];
    }
    const grazed = wide && edgeInOpening(wide, o);
    if (!grazed || (grazed.t1 - grazed.t0) * length <= ROUNDING) return [];
    return [{ opening: o.id, t0: grazed.t0, t1: grazed.t1, edgeMm: grazed.mm }];
  });
}

const ORDER: readonly Answer[] = ['inside', 'not-checked', 'disputed', 'outside'];

/** Outside is worst, then disputed, then not-checked, then inside; null for none. */
export function worstAnswer(answers: readonly Answer[]): Answer | null {
  let worst = -1;
  for (const answer of answers) worst = Math.max(worst, ORDER.indexOf(answer));
  return ORDER[worst] ?? null;
}

/** The pieces of a face that u0..u1 lies on. */
function piecesUnder(face: Face, u0: Mm, u1: Mm): number[] {
  return face.pieces.flatMap((p, i) => (p.u0 <= u1 + ROUNDING && p.u1 >= u0 - ROUNDING ? [i] : []));
}

/** How far a stretch is outside and where to go, once and for all of a leg: legal areas are worked out when asked for. */
function distancesOf(ctx: ZoneContext, fabric: Fabric, face: Face, facts: RunFacts) {
  let legal: Convex[] | null = null;
  return (fa: FacePoint, fb: FacePoint, t0: number, t1: number) => {
    legal ??= legalAreas(ctx, fabric, face, facts);
    const worst = worstSpot(fa, fb, t0, t1, legal);
    if (worst !== null) return { outsideMm: worst.distance, nearest: worst.nearest, none: '' };
    // No legal position on this face at all: the distance to what is at least arguable still says how far off it is.
    const arguable = worstSpot(fa, fb, t0, t1, nearAreas(ctx, face, facts, null));
    return {
      outsideMm: arguable?.distance ?? 0,
      nearest: null,
      none: ' This face has no permitted zone at all.',
    };
  };
}

/**
 * One leg on a face: exact stretches of each answer, openings crossed, cover. The centre line is held against closed
 * zone bounds, with no tolerance but rounding (1e-6 mm); where it is inside, the whole width of the cable is as well, or
 * the stretch is disputed.
 */
export function checkFaceLeg(
  ctx: ZoneContext,
  fabric: Fabric,
  face: Face,
  leg: Leg & { readonly fa: FacePoint; readonly fb: FacePoint },
  facts: RunFacts,
): LegCheck {
  const { fa, fb } = leg;
  const wide = wideLeg(fa, fb, facts.width);
  const half = wide?.half ?? 0;
  const box: Box = {
    u0: Math.min(fa.u, fb.u) - half,
    u1: Math.max(fa.u, fb.u) + half,
    z0: Math.min(fa.z, fb.z) - half,
    z1: Math.max(fa.z, fb.z) + half,
  };
  const near = nearAreas(ctx, face, facts, box);
  const far = farAreas(ctx, fabric, face, facts, box);
  const cuts = [cutsOf(fa, fb, near), cutsOf(fa, fb, far)];
  const distance = distancesOf(ctx, fabric, face, facts);
  const byCentre = verdictsAlong(cuts, leg.length).map((v): Stretch => {
    const length = (v.t1 - v.t0) * leg.length;
    if (v.answer !== 'outside') return { ...v, length, outsideMm: 0, nearest: null };
    const { outsideMm, nearest, none } = distance(fa, fb, v.t0, v.t1);
    return { ...v, why: v.why + none, length, outsideMm, nearest };
  });
  const stretches = wide ? withWholeWidth(face, wide, { near, far }, byCentre, leg.length) : byCentre;
  const covers = piecesUnder(face, box.u0 + half, box.u1 - half).map((i) => ({
    ...coverAt(face, i, facts),
    metal: face.builds[i]?.metal ?? false,
  }));
  return {
    leg,
    stretches,
    crossings: crossingsOf(face, fa, fb, leg.length, wide),
    offLevel: offLevel(fa, fb),
    coverNear: covers.length === 0 ? null : Math.min(...covers.map((c) => c.near)),
    coverFar: covers.length === 0 ? null : Math.min(...covers.map((c) => c.far)),
    depthFits: covers.every((c) => c.fits),
    metal: covers.some((c) => c.metal),
    answer: worstAnswer(stretches.map((s) => s.answer)) ?? 'not-checked',
  };
}

import type { Leg } from '../fabric/types.ts';
import type { BuildUp, Id, Joists, Material, PlanDocument, Run, Wall } from '../model/document.ts';
import { find } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import type { Held, Straight } from './types.ts';

/** Centres of studs, which the plan does not hold: 600 mm, common practice (400 mm is also usual). */
export const STUD_CENTRES: Mm = 600;

/** Legs meeting this near to one line are one straight, mm. */
export const IN_LINE_TOLERANCE: Mm = 0.5;

/** A stretch is plumb (or level) when it is off by no more than this, mm, or by `LIE_ANGLE`, whichever is larger. */
export const LIE_TOLERANCE: Mm = 1;
export const LIE_ANGLE = (0.2 * Math.PI) / 180;

interface Stretch {
  readonly first: Leg;
  readonly last: Leg;
  readonly length: Mm;
  readonly legs: readonly number[];
}

/** How far the meeting of two legs lies from the straight between their outer ends, mm; Infinity when they turn back. */
function bendAt(first: Leg, last: Leg, next: Leg): Mm {
  const d = [next.b.x - first.a.x, next.b.y - first.a.y, next.b.z - first.a.z] as const;
  const m = [last.b.x - first.a.x, last.b.y - first.a.y, last.b.z - first.a.z] as const;
  const whole = Math.hypot(...d);
  const along = whole === 0 ? 0 : (m[0] * d[0] + m[1] * d[1] + m[2] * d[2]) / whole;
  if (along < -IN_LINE_TOLERANCE || along > whole + IN_LINE_TOLERANCE) return Infinity;
  return Math.sqrt(Math.max(0, m[0] ** 2 + m[1] ** 2 + m[2] ** 2 - along ** 2));
}

/** Consecutive legs of one kind, on one surface and in one line, taken together. Corners, which have no length, drop out. */
function stretchesOf(legs: readonly Leg[]): Stretch[] {
  const found: Stretch[] = [];
  for (const [i, leg] of legs.entries()) {
    const before = found.at(-1);
    const joins =
      before !== undefined &&
      before.legs.at(-1) === i - 1 &&
      before.last.kind === leg.kind &&
      before.last.face === leg.face &&
      // A face may run over walls in line: there the leg's wall is only where it was drawn from.
      (leg.kind === 'face' || before.last.wall === leg.wall) &&
      before.last.storey === leg.storey &&
      bendAt(before.first, before.last, leg) <= IN_LINE_TOLERANCE;
    if (joins) {
      found[found.length - 1] = {
        ...before,
        last: leg,
        length: before.length + leg.length,
        legs: [...before.legs, i],
      };
    } else if (leg.length > 0) {
      found.push({ first: leg, last: leg, length: leg.length, legs: [i] });
    }
  }
  return found;
}

function lieOf({ first, last, length }: Stretch): Straight['lie'] {
  const tolerance = Math.max(LIE_TOLERANCE, LIE_ANGLE * length);
  const across = Math.hypot(last.b.x - first.a.x, last.b.y - first.a.y);
  const up = Math.abs(last.b.z - first.a.z);
  // A stretch of a millimetre or two is within tolerance of both: the longer component decides.
  if (across <= tolerance && across <= up) return 'plumb';
  return up <= tolerance ? 'level' : 'sloping';
}

/** What the cable lies in on its side of a wall: the build-up's cable layer, or the layer at the run's own depth. */
function layerAt(doc: PlanDocument, wall: Wall, leg: Leg, depth: Mm | null): Material | null {
  const build = find(doc, 'buildUps', wall.buildUp);
  const from = find(doc, 'nodes', wall.from);
  const to = find(doc, 'nodes', wall.to);
  if (build === undefined || from === undefined || to === undefined) return null;
  const midX = (leg.a.x + leg.b.x) / 2 - from.x;
  const midY = (leg.a.y + leg.b.y) / 2 - from.y;
  const onLeft = midX * (to.y - from.y) - midY * (to.x - from.x) > 0;
  const firstSide = onLeft !== wall.flipped;
  if (depth === null) {
    return build.layers[firstSide ? build.cableLayer.left : build.cableLayer.right]?.material ?? null;
  }
  let reached = 0;
  for (const layer of firstSide ? build.layers : build.layers.toReversed()) {
    reached += layer.thickness;
    if (depth <= reached) return layer.material;
  }
  return null;
}

interface Holes {
  readonly timber: number;
  readonly metal: number;
  readonly masonry: number;
  readonly why: string;
}
const NO_HOLES: Holes = { timber: 0, metal: 0, masonry: 0, why: '' };
const holesIn = (material: Material | null, count: number, why: string): Holes => ({
  timber: material === 'timber-stud' ? count : 0,
  metal: material === 'metal-stud' ? count : 0,
  masonry: 0,
  why,
});
const isStud = (material: Material | null) => material === 'timber-stud' || material === 'metal-stud';

/** Where cables may pass engineered joists, and which chart says so. */
const byChart = (chart: string): string =>
  chart === '' ? 'by the maker’s chart only, which is not noted' : `by the maker’s chart (${chart})`;

/** Joists crossed (engineered ones are never drilled by count): the reach square to them over their centres, rounded, as where the first one stands is not known. */
function joistHoles(joists: Joists, { first, last }: Stretch): Holes {
  const dx = last.b.x - first.a.x;
  const dy = last.b.y - first.a.y;
  const square = Math.abs(dy * Math.cos(joists.direction) - dx * Math.sin(joists.direction));
  const count = Math.round(square / joists.centres);
  if (joists.member === 'engineered') {
    const why =
      count === 0
        ? ''
        : `${(square / 1000).toFixed(3)} m square to engineered joists: ${byChart(joists.chart)}, no hole counted`;
    return { ...NO_HOLES, why };
  }
  const why =
    count === 0
      ? ''
      : `${(square / 1000).toFixed(3)} m square to joists at ${joists.centres} mm centres: about ${count}, ` +
        'the first joist not being on the plan';
  return { timber: count, metal: 0, masonry: 0, why };
}

/** The wall whose head plate a riser goes through: that of the face leg beside it in the run. */
function wallBeside(doc: PlanDocument, legs: readonly Leg[], stretch: Stretch): [Wall, Leg] | null {
  for (const i of [(stretch.legs[0] ?? 0) - 1, (stretch.legs.at(-1) ?? 0) + 1]) {
    const leg = legs[i];
    const wall = leg?.kind === 'face' ? find(doc, 'walls', leg.wall) : undefined;
    if (leg !== undefined && wall !== undefined) return [wall, leg];
  }
  return null;
}

function holesOf(doc: PlanDocument, run: Run, legs: readonly Leg[], stretch: Stretch): Holes {
  const { first, last } = stretch;
  const storey = find(doc, 'storeys', first.storey);
  if (first.kind === 'ceiling' || first.kind === 'floor') {
    const build = first.kind === 'ceiling' ? storey?.ceiling : storey?.floor;
    return build?.kind === 'void' && build.joists !== null ? joistHoles(build.joists, stretch) : NO_HOLES;
  }
  if (first.kind === 'face') {
    const wall = find(doc, 'walls', first.wall);
    const material = wall === undefined ? null : layerAt(doc, wall, first, run.depth);
    const across = Math.hypot(last.b.x - first.a.x, last.b.y - first.a.y);
    if (!isStud(material) || lieOf(stretch) === 'plumb') return NO_HOLES;
    const count = Math.round(across / STUD_CENTRES);
    return holesIn(
      material,
      count,
      `${(across / 1000).toFixed(3)} m along studs taken at ${STUD_CENTRES} mm centres: about ${count}`,
    );
  }
  if (first.kind === 'riser') {
    const beside = wallBeside(doc, legs, stretch);
    const material = beside === null ? null : layerAt(doc, beside[0], beside[1], run.depth);
    return isStud(material) ? holesIn(material, 1, 'through the plate at the end of the studs') : NO_HOLES;
  }
  if (first.kind === 'through') {
    const frame = find(doc, 'buildUps', find(doc, 'walls', first.wall)?.buildUp ?? null)?.frame;
    if (frame === 'masonry') return { ...NO_HOLES, masonry: 1, why: 'through the wall' };
    const beside = wallBeside(doc, legs, stretch);
    if (beside?.[0].id === first.wall)
      return { ...NO_HOLES, why: 'from one side to the other between studs' };
    return frame === undefined
      ? NO_HOLES
      : holesIn(frame === 'metal' ? 'metal-stud' : 'timber-stud', 1, 'through the end stud of the partition');
  }
  return NO_HOLES;
}

const WHERE: Readonly<Record<Leg['kind'], Straight['where']>> = {
  face: 'wall',
  ceiling: 'void',
  floor: 'void',
  riser: 'riser',
  through: 'through',
  over: 'wall',
  corner: 'wall',
  loose: 'loose',
};

const frameOf = (doc: PlanDocument, wall: Id | null): BuildUp['frame'] | undefined =>
  find(doc, 'buildUps', find(doc, 'walls', wall)?.buildUp ?? null)?.frame;

function heldBy(fixing: Run['fixing'], where: Straight['where'], drilled: boolean, masonry: boolean): Held {
  if (fixing === 'conduit') return 'conduit';
  // The one hole through a plate is the thickness of the plate: the rise or drop is held as the run is said to be.
  if (where !== 'wall' && where !== 'void') return 'across';
  if (drilled) return 'through-holes';
  // Only masonry buries a cable, whatever is said of the run as a whole.
  if (masonry && (fixing === 'in-plaster' || fixing === 'chase')) return 'buried';
  return fixing === 'clipped' ? 'clipped' : 'not-said';
}

/** How each leg of a run is held, in the order of its legs; legs without length are `across`. */
export function stretchConditions(doc: PlanDocument, run: Run, legs: readonly Leg[]): readonly Held[] {
  const held: Held[] = legs.map(() => 'across');
  for (const straight of straightsOf(doc, run, legs)) for (const i of straight.legs) held[i] = straight.held;
  return held;
}

/**
 * The straights of a run, in order, mm. Their lengths add up to the legs' lengths. Clips carry what lies on walls and
 * along joists; what goes through holes in studs or joists is carried by them, and what is in conduit needs none.
 */
export function straightsOf(doc: PlanDocument, run: Run, legs: readonly Leg[]): Straight[] {
  return stretchesOf(legs).map((stretch) => {
    const where = WHERE[stretch.first.kind];
    const holes = holesOf(doc, run, legs, stretch);
    const drilled = holes.timber + holes.metal > 0;
    const masonry = where === 'wall' && frameOf(doc, stretch.first.wall) === 'masonry';
    const held = heldBy(run.fixing, where, drilled, masonry);
    return {
      held,
      where,
      lie: lieOf(stretch),
      length: stretch.length,
      masonry,
      legs: stretch.legs,
      clipped: held === 'clipped' || held === 'buried' || held === 'not-said',
      timberHoles: holes.timber,
      metalHoles: holes.metal,
      masonryHoles: holes.masonry,
      why: run.fixing === 'conduit' && holes.why === '' ? 'in conduit' : holes.why,
    };
  });
}

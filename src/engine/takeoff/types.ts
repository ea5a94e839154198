import type { Id } from '../model/document.ts';
import type { Metre, Mm, Money } from '../model/units.ts';
import type { Source } from '../model/evidence.ts';

/**
 * How a stretch is held: the one thing that clips, holes and capping are counted from and that ratings assume, so that
 * they tell one story. `buried`: said so, and in masonry. `clipped`: said so, and nothing is drilled for it. `not-said`:
 * clips are counted, as more has to be bought, and a rating takes it as loose: the stricter for each. `across`: through a
 * wall, between storeys, or loose in a room.
 */
export type Held = 'conduit' | 'buried' | 'through-holes' | 'clipped' | 'not-said' | 'across';

/**
 * A straight stretch of a run: consecutive legs in one line on one surface, so that splitting a leg changes nothing.
 * It is what clips and holes are counted on, and what a working lights up.
 */
export interface Straight {
  readonly where: 'wall' | 'void' | 'riser' | 'through' | 'loose';
  readonly lie: 'level' | 'plumb' | 'sloping';
  readonly length: Mm;
  /** True on a masonry wall, which can bury it in plaster or a chase. */
  readonly masonry: boolean;
  /** Which legs of the resolved run it is made of. */
  readonly legs: readonly number[];
  /** What the take-off counts for it and what a rating assumes of it: see `Held`. */
  readonly held: Held;
  /** True where clips are counted: held by them, or nobody has said how; false in conduit, through holes, across a wall. */
  readonly clipped: boolean;
  /** Holes drilled for it, by what is drilled. */
  readonly timberHoles: number;
  readonly metalHoles: number;
  readonly masonryHoles: number;
  /** Why it has those holes or no clips; empty when there is nothing to say. */
  readonly why: string;
}

/**
 * The working of one run's length. cutMm = run + riseDrop + through + tailFrom + tailTo, without the job's allowance (the
 * report's `cut_mm`); what a person cuts has the allowance on it: `cutWithAllowance`.
 */
export interface RunLength {
  readonly run: Id;
  readonly cable: Id;
  readonly circuit: Id | null;
  /** Level and diagonal metres. */
  readonly runMm: Mm;
  /** Plumb metres, up and down. */
  readonly riseDropMm: Mm;
  readonly throughMm: Mm;
  readonly tailFromMm: Mm;
  readonly tailToMm: Mm;
  readonly cutMm: Mm;
  /** Why each tail is what it is, for the working. */
  readonly tailFromWhy: string;
  readonly tailToWhy: string;
  /** Metres by how they lie, for clips: level on walls, plumb on walls, in voids. */
  readonly levelWallMm: Mm;
  readonly plumbWallMm: Mm;
  readonly voidMm: Mm;
  /** Holes in timber (studs, plates, joists) and in metal studs and tracks. */
  readonly throughTimber: number;
  readonly throughMetal: number;
  readonly straights: readonly Straight[];
  /** False when an end is parked or the run could not be resolved. */
  readonly whole: boolean;
}

export interface CableTotal {
  readonly cable: Id;
  readonly name: string;
  readonly runs: readonly Id[];
  readonly runMm: Mm;
  readonly riseDropMm: Mm;
  readonly throughMm: Mm;
  readonly measuredMm: Mm;
  readonly tailsMm: Mm;
  readonly allowanceMm: Mm;
  readonly orderMm: Mm;
  /** ± on measuredMm from the calibration of the drawing; 0 when drawn from typed lengths. */
  readonly errorMm: Mm;
}

/** Of a line that needs no figure of any source. */
export const COUNTED = { text: 'Counted on the plan', rank: null } as const;

export interface Sundry {
  readonly key: string;
  readonly what: string;
  readonly count: number;
  readonly working: string;
  /** What its figures rest on; a null rank where it is only counted. */
  readonly source: Source | typeof COUNTED;
  readonly runs: readonly Id[];
  readonly points: readonly Id[];
}

/** Metres are refused (not guessed) while a storey's drawing has no known length. */
export type Scale =
  | { readonly state: 'typed' }
  /** `errorPerMetre`: mm per metre; `lengths`: known lengths of the picture that has fewest (one is worth a warning). */
  | { readonly state: 'measured'; readonly errorPerMetre: number; readonly lengths: number }
  | { readonly state: 'refused'; readonly why: string };

export interface TakeOff {
  readonly scale: Scale;
  readonly runs: ReadonlyMap<Id, RunLength>;
  readonly cables: readonly CableTotal[];
  readonly sundries: readonly Sundry[];
}

export interface DrumUse {
  readonly length: Metre;
  readonly price: Money | null;
  readonly owned: boolean;
  /** Runs cut from it, in pulling order, with what is left after each. */
  readonly cuts: readonly { readonly run: Id; readonly length: Mm; readonly left: Mm }[];
  readonly left: Mm;
}

export interface DrumPlan {
  readonly cable: Id;
  readonly drums: readonly DrumUse[];
  /** Runs longer than any drum. */
  readonly tooLong: readonly Id[];
  readonly cost: Money | null;
  /** Total metres bought. */
  readonly bought: Metre;
  /** What is minimised: money when every drum length has a price, else metres. */
  readonly objective: 'money' | 'metres';
  readonly value: number;
  readonly lowerBound: number;
  /** True only when value equals a proven lower bound. */
  readonly proven: boolean;
}

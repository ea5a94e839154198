import type { Cable, DrumOffer, Id, PlanDocument } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { keepLongestRemnant } from './packing/remnant.ts';
import { USUAL_EFFORT, solvePacking } from './packing/solve.ts';
import { searchFit } from './packing/fit.ts';
import type { BinKind, Packing } from './packing/types.ts';
import { gcdOf, seeded } from './packing/types.ts';
import { cutWithAllowance } from './totals.ts';
import type { DrumPlan, DrumUse, TakeOff } from './types.ts';

/** One uncut length wanted, mm. */
export interface Piece {
  readonly run: Id;
  readonly length: Mm;
}

/** Rounding noise of added lengths, mm: a piece this much over a drum still fits it. */
const NOISE: Mm = 1e-6;
/** Whole units the packing counts one unit of money in. */
const MONEY_UNITS = 1_000_000;

const wholeMm = (length: Mm): number => Math.max(0, Math.ceil(length - NOISE));
const drumMm = (metres: number): number => Math.floor(metres * 1000 + NOISE);

interface Market {
  readonly objective: DrumPlan['objective'];
  /** Offers worth buying, longest first, with their cost in whole units. */
  readonly offers: readonly (DrumOffer & { readonly cost: number; readonly mm: number })[];
  /** Whole units of cost in one of money or one metre. */
  readonly units: number;
}

/** Offers that a longer one at the same cost or less does not beat. Money counts only when every offer has a price. */
function marketOf(drums: readonly DrumOffer[]): Market {
  const money = drums.length > 0 && drums.every((d) => d.price !== null);
  const cost = (d: DrumOffer) => (money ? Math.round((d.price ?? 0) * MONEY_UNITS) : drumMm(d.length));
  const sorted = drums
    .map((d) => ({ ...d, cost: cost(d), mm: drumMm(d.length) }))
    .filter((d) => d.mm > 0)
    .sort((a, b) => b.mm - a.mm || a.cost - b.cost);
  const offers = sorted.filter((d, i) => sorted.slice(0, i).every((longer) => longer.cost > d.cost));
  return { objective: money ? 'money' : 'metres', offers, units: money ? MONEY_UNITS : 1000 };
}

/** Pieces longer than any drum offered may still come from remnants: those that can, and where; the rest are too long. */
function fromRemnants(pieces: readonly Piece[], longest: number, owned: readonly number[]) {
  const long = pieces.filter((p) => wholeMm(p.length) > longest);
  const kept: Piece[] = [];
  const tooLong: Piece[] = [];
  for (const piece of long.toSorted((a, b) => b.length - a.length)) {
    const sizes = [...kept, piece].map((p) => wholeMm(p.length));
    const binOf = searchFit(sizes, owned, seeded(1), { left: 20_000 });
    if (binOf === null) tooLong.push(piece);
    else kept.push(piece);
  }
  return { kept, tooLong };
}

interface Packed {
  readonly packing: Packing;
  readonly value: number;
  readonly lowerBound: number;
  readonly proven: boolean;
}

const NOTHING: Packed = { packing: { capacities: [], binOf: [] }, value: 0, lowerBound: 0, proven: true };

/** Packs pieces, longest first, into owned lengths and drums; null when the long ones do not go into the remnants. */
function pack(
  pieces: readonly Piece[],
  owned: readonly number[],
  market: Market,
  work: number,
): Packed | null {
  const sizes = pieces.map((p) => wholeMm(p.length));
  if (sizes.length === 0) return NOTHING;
  const unit = Math.max(1, gcdOf(sizes));
  const inUnits = (mm: number) => Math.floor(mm / unit);
  const kinds: BinKind[] = [];
  for (const offer of market.offers) {
    // Two drums that hold the same whole units are one kind: the cheaper, which comes later.
    const capacity = inUnits(offer.mm);
    if (capacity < inUnits(sizes.at(-1) ?? 0) || capacity === 0) continue;
    if (kinds.at(-1)?.capacity === capacity) kinds.pop();
    kinds.push({ capacity, cost: offer.cost });
  }
  const task = { sizes: sizes.map(inUnits), kinds, owned: owned.map(inUnits) };
  const answer = solvePacking(task, work);
  if (answer === null) return null;
  const kept = keepLongestRemnant(task.sizes, answer.packing, owned.length);
  const offerOf = (capacity: number) => market.offers.findLast((o) => inUnits(o.mm) === capacity)?.mm ?? 0;
  const capacities = kept.capacities.map((c, b) => (b < owned.length ? (owned[b] ?? 0) : offerOf(c)));
  return {
    packing: { capacities, binOf: kept.binOf },
    value: answer.cost / market.units,
    lowerBound: answer.lowerBound / market.units,
    proven: answer.proven,
  };
}

/** The drums of a packing that carry something, owned ones first, each with its cuts in pulling order. */
function usesOf(
  pulling: readonly Piece[],
  binOf: ReadonlyMap<Id, number>,
  capacities: readonly number[],
  ownedCount: number,
  market: Market,
): DrumUse[] {
  const uses: { readonly use: DrumUse; readonly first: number }[] = [];
  for (const [b, capacity] of capacities.entries()) {
    const mine = pulling.filter((p) => binOf.get(p.run) === b);
    if (mine.length === 0) continue;
    let left: Mm = capacity;
    const cuts = mine.map(({ run, length }) => {
      left = Math.max(0, left - length);
      return { run, length, left };
    });
    const owned = b < ownedCount;
    const offer = owned ? undefined : market.offers.find((o) => o.mm === capacity);
    const use = { length: offer?.length ?? capacity / 1000, price: offer?.price ?? null, owned, cuts, left };
    uses.push({ use, first: pulling.indexOf(mine[0] as Piece) });
  }
  return uses
    .sort((x, y) => Number(y.use.owned) - Number(x.use.owned) || x.first - y.first)
    .map(({ use }) => use);
}

/**
 * Which drums to buy for one cable and which run is cut from which. Runs are never joined and are cut to whole
 * millimetres; remnants cost nothing. Least money when every drum has a price, else fewest metres; then fewest drums;
 * then the longest single remnant found. `proven` only when the value equals a bound no plan can go below. The pieces
 * come in pulling order. Deterministic: `work` counts steps, not time.
 */
export function planDrums(cable: Cable, pieces: readonly Piece[], work = USUAL_EFFORT): DrumPlan {
  const market = marketOf(cable.drums);
  const owned = cable.remnants.map(drumMm).filter((mm) => mm > 0);
  const { kept, tooLong } = fromRemnants(pieces, market.offers[0]?.mm ?? 0, owned);
  const late = new Set(tooLong.map((p) => p.run));
  let wanted = pieces.filter((p) => !late.has(p.run)).toSorted((a, b) => b.length - a.length);
  let packed = pack(wanted, owned, market, work);
  // Runs that only a remnant can take, in a remnant list the plain start cannot place: they are then too long.
  for (const piece of kept.toReversed()) {
    if (packed !== null) break;
    late.add(piece.run);
    wanted = wanted.filter((p) => p !== piece);
    packed = pack(wanted, owned, market, work);
  }
  const { packing, value, lowerBound, proven } = packed ?? NOTHING;
  const binOf = new Map(wanted.map((p, i) => [p.run, packing.binOf[i] ?? -1]));
  const drums = usesOf(pieces, binOf, packing.capacities, owned.length, market);
  const bought = drums.filter((d) => !d.owned);
  return {
    cable: cable.id,
    drums,
    tooLong: pieces.filter((p) => late.has(p.run)).map((p) => p.run),
    cost: bought.every((d) => d.price !== null) ? bought.reduce((sum, d) => sum + (d.price ?? 0), 0) : null,
    bought: bought.reduce((sum, d) => sum + d.length, 0),
    objective: market.objective,
    value,
    lowerBound,
    proven,
  };
}

/** Drum plans for every cable of a take-off, pieces with the job's allowance, in the document's order of runs. */
export function drumPlans(doc: PlanDocument, taken: TakeOff, work = USUAL_EFFORT): DrumPlan[] {
  const wanted = new Set(taken.cables.map((c) => c.cable));
  return rows(doc.cables)
    .filter((cable) => wanted.has(cable.id))
    .map((cable) => {
      const pieces = [...taken.runs.values()]
        .filter((l) => l.cable === cable.id)
        .map((l) => ({ run: l.run, length: cutWithAllowance(doc, l) }));
      return planDrums(cable, pieces, work);
    });
}

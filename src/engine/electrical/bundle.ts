import type { Id } from '../model/document.ts';
import { find } from '../model/tables.ts';
import type { Amp, Mm } from '../model/units.ts';
import type { ConditionStretch } from './conditions.ts';
import type { CircuitFacts } from './facts.ts';
import type { ElectricalInput } from './net.ts';
import { BOARD_BUNDLE, RING_MIN_RATING } from './tables/circuits.ts';

/** Stretches of one run that carry less than they must. */
export interface Shortfall {
  readonly run: Id;
  readonly stretches: readonly ConditionStretch[];
  readonly lengthMm: Mm;
  /** The stretch that carries least. */
  readonly worst: ConditionStretch;
  /** The board they begin at, where it is only the other cables there that take the rating; null elsewhere. */
  readonly board: Id | null;
}

/** What each leg of a circuit must carry, A. */
export const neededRating = ({ circuit }: Pick<CircuitFacts, 'circuit'>): Amp =>
  circuit.topology === 'ring' ? RING_MIN_RATING.values : circuit.device.rating;

function shortfall(run: Id, stretches: readonly ConditionStretch[], board: Id | null): Shortfall[] {
  const [first] = stretches;
  if (first === undefined) return [];
  return [
    {
      run,
      stretches,
      lengthMm: stretches.reduce((sum, s) => sum + s.length, 0),
      worst: stretches.reduce((a, b) => ((b.iz ?? Infinity) < (a.iz ?? Infinity) ? b : a), first),
      board,
    },
  ];
}

/**
 * Where the runs of a circuit carry less than they must: at a board, as far from it as only the cables beside it are the
 * cause and no further than `BOARD_BUNDLE`; and elsewhere. Stretches without a rating are in neither.
 */
export function shortfallsOf(input: ElectricalInput, facts: CircuitFacts): Shortfall[] {
  const needed = neededRating(facts);
  const short = (s: ConditionStretch): boolean => s.iz !== null && s.iz < needed - 1e-9;
  const crowded = (s: ConditionStretch): boolean =>
    short(s) && (s.it ?? 0) * (s.ca ?? 0) * s.ci >= needed - 1e-9;
  return facts.conditions.flatMap(({ run, stretches }) => {
    const record = find(input.doc, 'runs', run);
    const atBoard = new Set<ConditionStretch>();
    const found: Shortfall[] = [];
    for (const [end, from] of [
      [record?.from, stretches],
      [record?.to, stretches.toReversed()],
    ] as const) {
      const board = find(input.doc, 'points', end ?? null);
      if (board?.kind !== 'consumer-unit') continue;
      const parting = from.findIndex((s) => !crowded(s) || atBoard.has(s));
      const [bundle] = shortfall(run, from.slice(0, parting < 0 ? from.length : parting), board.id);
      if (bundle === undefined || bundle.lengthMm > BOARD_BUNDLE.values) continue;
      for (const s of bundle.stretches) atBoard.add(s);
      found.push(bundle);
    }
    return [
      ...found,
      ...shortfall(
        run,
        stretches.filter((s) => short(s) && !atBoard.has(s)),
        null,
      ),
    ];
  });
}

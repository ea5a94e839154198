import type { Id } from '../model/document.ts';
import type { Metre, Mm } from '../model/units.ts';
import type { Piece } from './drums.ts';
import type { DrumPlan } from './types.ts';

/** One cut, in pulling order. */
export interface Cut {
  readonly run: Id;
  readonly length: Mm;
  /** Index into the plan's drums. */
  readonly drum: number;
  readonly drumLength: Metre;
  readonly owned: boolean;
  /** What is left on that drum after this cut. */
  readonly left: Mm;
}

/** The cuts of a drum plan in pulling order, with what is left on the drum after each. */
export function cutList(plan: DrumPlan, pulling: readonly Id[]): Cut[] {
  const rank = new Map(pulling.map((id, i) => [id, i]));
  return plan.drums
    .flatMap((drum, index) =>
      drum.cuts.map((cut) => ({ ...cut, drum: index, drumLength: drum.length, owned: drum.owned })),
    )
    .sort((a, b) => (rank.get(a.run) ?? Infinity) - (rank.get(b.run) ?? Infinity));
}

/** What happens when runs are cut first come, first served. */
export interface Shortfall {
  /** Per drum: the first run that no longer fits what is left of it (null when none came), and what is left then. */
  readonly drums: readonly { readonly length: Metre; readonly endsAt: Id | null; readonly left: Mm }[];
  /** Runs for which no drum has enough left. */
  readonly short: readonly Id[];
  /** One sentence for each drum that ends and each run that goes short, by the labels given. */
  readonly notes: readonly string[];
}

/**
 * The person's own order cut from the drums in theirs: each run from the first drum that still has enough. Says at
 * which run each drum ends, and which runs are left without cable. Lengths of drums in metres.
 */
export function drumShortfall(
  order: readonly Piece[],
  drums: readonly Metre[],
  labelOf: (run: Id) => string = (run) => run,
): Shortfall {
  const stock = drums.map((length) => ({
    length,
    left: length * 1000,
    endsAt: null as Id | null,
    leftThen: 0,
  }));
  const short: Id[] = [];
  for (const { run, length } of order) {
    let cut = false;
    for (const drum of stock) {
      if (length <= drum.left + 1e-6) {
        drum.left = Math.max(0, drum.left - length);
        cut = true;
        break;
      }
      if (drum.endsAt === null) {
        drum.endsAt = run;
        drum.leftThen = drum.left;
      }
    }
    if (!cut) short.push(run);
  }
  const ended = stock.flatMap((drum, i) =>
    drum.endsAt === null
      ? []
      : [
          `Drum ${i + 1} (${drum.length} m) ends at ${labelOf(drum.endsAt)}, with ${(drum.leftThen / 1000).toFixed(1)} m left.`,
        ],
  );
  return {
    drums: stock.map(({ length, endsAt, left }) => ({ length, endsAt, left })),
    short,
    notes: [...ended, ...short.map((run) => `No drum has enough left for ${labelOf(run)}.`)],
  };
}

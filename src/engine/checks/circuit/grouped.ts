import { remembered, weakest } from '../../model/evidence.ts';
import type { Id } from '../../model/document.ts';
import { find } from '../../model/tables.ts';
import type { Mm } from '../../model/units.ts';
import { neededRating, shortfallsOf, type Shortfall } from '../../electrical/bundle.ts';
import { factsOfCircuit, type CircuitFacts } from '../../electrical/facts.ts';
import type { ElectricalInput } from '../../electrical/net.ts';
import { CONVENTIONAL_LAYER } from '../../electrical/tables/circuits.ts';
import { sourcesOf } from '../../electrical/tables/cited.ts';
import { GROUP_BUNCHED, GROUP_LAYER, LIGHTLY_LOADED } from '../../electrical/tables/factors.ts';
import { amps, circuitName, type ElectricalCheck } from './check.ts';

const metres = (mm: Mm): string => `${(mm / 1000).toFixed(2)} m`;

/** "1.00 m in plaster or masonry, 0.10 m loose in the void above the ceiling". */
export function lengthsByPlace({ stretches }: Pick<Shortfall, 'stretches'>): string {
  const by = new Map<string, Mm>();
  for (const s of stretches) by.set(s.why, (by.get(s.why) ?? 0) + s.length);
  return [...by].map(([why, length]) => `${metres(length)} ${why}`).join(', ');
}

const atBoards = (input: ElectricalInput, facts: CircuitFacts): Shortfall[] =>
  shortfallsOf(input, facts).filter((s) => s.board !== null);

/** Facts of the circuits that fall short beside these cables, in the order of the plan; this one among them. */
function bundled(input: ElectricalInput, facts: CircuitFacts, own: readonly Shortfall[]): CircuitFacts[] {
  const beside = new Set<Id>(own.flatMap((s) => s.stretches.flatMap((x) => x.grouped)));
  return input.doc.circuits.order
    .filter((id) => id === facts.circuit.id || beside.has(id))
    .flatMap((id) => {
      const circuit = find(input.doc, 'circuits', id);
      const other = circuit === undefined ? undefined : factsOfCircuit(input, circuit);
      return other === undefined || atBoards(input, other).length === 0 ? [] : [other];
    });
}

/** What one circuit comes to in the bundle, with its place and length. */
function sayOf(input: ElectricalInput, facts: CircuitFacts): string {
  return atBoards(input, facts)
    .map((s) => {
      const run = find(input.doc, 'runs', s.run)?.label ?? s.run;
      const { worst } = s;
      return `${circuitName(facts)}: ${run} carries ${amps(worst.iz ?? 0)} of the ${neededRating(facts)} A it needs over its first ${metres(s.lengthMm)} (${lengthsByPlace(s)}; ${worst.it} A x Cg ${worst.cg} for ${worst.grouped.length} circuits)`;
    })
    .join('; ');
}

/** Neighbours whose loads nobody has stated: they count as the rating of their device. */
function notStated(input: ElectricalInput, ids: ReadonlySet<Id>): string[] {
  return [...ids].flatMap((id) => {
    const circuit = find(input.doc, 'circuits', id);
    if (circuit === undefined) return [];
    const facts = factsOfCircuit(input, circuit);
    const { current } = facts;
    return current.how === 'unknown' || current.unstated.length > 0 ? [circuitName(facts)] : [];
  });
}

/**
 * Circuits that leave one board side by side and carry too little there by the letter of the table, though each would
 * carry enough by itself: one question with its figures for all of them. It is no pass: who designs decides.
 */
export const groupedAtBoard: ElectricalCheck = {
  id: 'grouped-at-board',
  title: 'Cables side by side at the board',
  severity: 'disputed',
  stage: 'circuits',
  source: (rules) => {
    const { text, rank } = sourcesOf(GROUP_BUNCHED, GROUP_LAYER, LIGHTLY_LOADED, CONVENTIONAL_LAYER);
    const length = remembered('how far from a board a bundle counts as one: common practice');
    return { text: `${rules.name}: ${text}; ${length.text}`, rank: weakest(rank, length.rank) };
  },
  look: (facts, input) => {
    const own = atBoards(input, facts);
    const [first] = own;
    if (first === undefined || first.board === null) return [{ state: 'not-asked' }];
    const all = bundled(input, facts, own);
    if (all[0]?.circuit.id !== facts.circuit.id) return [{ state: 'not-asked' }];
    const beside = new Set<Id>(
      all.flatMap((f) => atBoards(input, f).flatMap((s) => s.stretches.flatMap((x) => x.grouped))),
    );
    const blank = notStated(input, beside);
    const board = find(input.doc, 'points', first.board)?.label ?? first.board;
    const load =
      blank.length === 0
        ? ''
        : `State the loads of ${blank.join(', ')}: they count as the rating of their device, and what carries 30 % of its grouped rating or less is left out. `;
    return [
      {
        state: 'breaks',
        said: `Beside each other at the board ${board}, though enough where they part. ${all.map((f) => sayOf(input, f)).join('. ')}.`,
        fix: `${load}Bring the cables away from the board with a cable's width between them, or ask the electrician: Table 4C1 by its letter rates the whole cable by its worst stretch; the On-Site Guide lets up to ${CONVENTIONAL_LAYER.values} standard circuits of a dwelling touch in one layer. Their answer is kept with "Accept with a reason".`,
        where: { stretch: first.worst, about: first.board },
      },
    ];
  },
};

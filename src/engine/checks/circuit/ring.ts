import { find } from '../../model/tables.ts';
import type { Id } from '../../model/document.ts';
import type { Spur } from '../../electrical/facts.ts';
import { ringOrder, type ElectricalInput } from '../../electrical/net.ts';
import { RING_MAX_METRES, SPUR_FEEDS } from '../../electrical/tables/circuits.ts';
import { sourceOf } from '../../electrical/tables/cited.ts';
import { circuitName, type ElectricalCheck } from './check.ts';

/** Loop of 106 m, spurs not counted. */
export const ringTooLong: ElectricalCheck = {
  id: 'ring-too-long',
  title: 'Ring longer than the standard circuit',
  severity: 'warning',
  stage: 'circuits',
  source: () => sourceOf(RING_MAX_METRES),
  look: (facts) => {
    const { ringMm, circuit } = facts;
    if (circuit.topology !== 'ring') return [{ state: 'not-asked' }];
    if (ringMm === null) return [{ state: 'open', said: facts.net.problem ?? '' }];
    const said = `${circuitName(facts)}: ${(ringMm / 1000).toFixed(1)} m round the ring with tails, ${RING_MAX_METRES.values} m at most`;
    if (ringMm <= RING_MAX_METRES.values * 1000) return [{ state: 'keeps', said: `${said}.` }];
    return [
      {
        state: 'breaks',
        said: `${said}.`,
        fix: 'Make two circuits of it, or take a shorter way round.',
        where: { point: facts.net.board?.id ?? '' },
      },
    ];
  },
};

const isFuse = (input: ElectricalInput, point: Id | undefined): boolean =>
  find(input.doc, 'points', point ?? null)?.kind === 'fused-spur';

/** A spur is fused when a fused connection unit stands at its head: in the ring itself, or first on the spur. */
const isFused = (spur: Spur, input: ElectricalInput): boolean =>
  isFuse(input, spur.from) || isFuse(input, spur.feeds[0]);

/** An unfused spur feeds one single or twin socket-outlet or one fixed item. */
export const spurFeedsMore: ElectricalCheck = {
  id: 'spur-feeds-more',
  title: 'Unfused spur that feeds more than one',
  severity: 'error',
  stage: 'circuits',
  source: () => sourceOf(SPUR_FEEDS),
  look: (facts, input) => {
    if (facts.circuit.topology !== 'ring') return [{ state: 'not-asked' }];
    return facts.spurs.map((spur) => {
      // Joints are no items.
      const tree = spur.feeds.flatMap((id) => find(input.doc, 'points', id) ?? []);
      const items = tree.filter((p) => p.kind !== 'joint' && p.kind !== 'isolator');
      const from = find(input.doc, 'points', spur.from)?.label ?? spur.from;
      const said = `${circuitName(facts)}: the spur from ${from} feeds ${items.map((p) => p.label).join(', ')}`;
      if (isFused(spur, input) || items.length <= SPUR_FEEDS.values)
        return { state: 'keeps', said: `${said}.` };
      return {
        state: 'breaks',
        said: `${said}; an unfused spur feeds ${SPUR_FEEDS.values}.`,
        fix: 'Bring the further points into the ring, or put a fused connection unit at the head of the spur.',
        where: { point: items[1]?.id ?? spur.from, about: spur.feeds[0] ?? spur.from },
      };
    });
  },
};

/** No more unfused spurs than points on the ring itself. */
export const spursTooMany: ElectricalCheck = {
  id: 'spurs-too-many',
  title: 'More spurs than points on the ring',
  severity: 'error',
  stage: 'circuits',
  source: () => sourceOf(SPUR_FEEDS),
  look: (facts, input) => {
    if (facts.circuit.topology !== 'ring' || facts.net.problem !== null) return [{ state: 'not-asked' }];
    const unfused = facts.spurs.filter((s) => !isFused(s, input));
    const onRing = ringOrder(facts.net).length - 1;
    const said = `${circuitName(facts)}: ${unfused.length} unfused spurs, ${onRing} points on the ring`;
    if (unfused.length <= onRing) return [{ state: 'keeps', said: `${said}.` }];
    return [
      {
        state: 'breaks',
        said: `${said}.`,
        fix: 'Bring some of the spurs into the ring.',
        where: { point: facts.net.board?.id ?? '' },
      },
    ];
  },
};

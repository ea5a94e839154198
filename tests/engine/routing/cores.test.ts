import { describe, expect, it } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { BLANK_RUN } from '../../../src/engine/model/blankRun.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Circuit, PlanDocument, Point, Run } from '../../../src/engine/model/document.ts';
import { rows } from '../../../src/engine/model/tables.ts';
import { planCircuit } from '../../../src/engine/routing/circuitPlan.ts';
import { routingContext } from '../../../src/engine/routing/context.ts';
import { plannerFor, suggestRun } from '../../../src/engine/routing/planner.ts';
import { withSuggestion } from '../../../src/engine/routing/trial.ts';
import { ALL_WAYS } from '../../../src/engine/routing/types.ts';
import { seeded } from '../fabric/plans.ts';
import { freshSeed } from '../../random.ts';
import { randomPlan } from './randomPlan.ts';

/** The lights of a random plan worked from two places, or each by switches of its own. */
function twoWay(doc: PlanDocument, random: () => number): PlanDocument {
  const points = rows(doc.points);
  const lights = points.filter((p) => p.kind === 'ceiling-light').map((p) => p.id);
  const first = points.find((p) => p.kind === 'switch-1way') as Point;
  if (first.place.on !== 'face') throw new Error('a switch stands on a wall');
  const other: Point = {
    ...first,
    id: 'p90',
    label: 'P90',
    place: { ...first.place, side: first.place.side === 'left' ? 'right' : 'left' },
  };
  const some = random() < 0.5 ? lights : lights.slice(0, 1);
  return {
    ...doc,
    points: tableFrom([
      ...points.map((p) =>
        p.id === first.id ? { ...p, kind: 'switch-2way' as const, controls: [lights] } : p,
      ),
      { ...other, kind: 'switch-2way' as const, controls: [some] },
    ]),
  };
}

/** With one run of the lighting drawn by hand in two-core, between any two of its points. */
function withDrawn(doc: PlanDocument, random: () => number): PlanDocument | null {
  const circuit = doc.circuits.byId.c2 as Circuit;
  const ids = [
    'p1',
    ...rows(doc.points)
      .filter((p) => p.circuit === 'c2')
      .map((p) => p.id),
  ];
  const [from, to] = [0, 1].map(() => ids[Math.floor(random() * ids.length)] as string) as [string, string];
  if (from === to) return null;
  const route = suggestRun(plannerFor(routingContext(doc), circuit, ALL_WAYS), from, to);
  if (!route.ok) return null;
  const run: Run = {
    ...BLANK_RUN,
    id: 'r1',
    label: 'R1',
    circuit: 'c2',
    cable: 'te1-5',
    from,
    to,
    corners: route.corners,
    fixing: 'in-void',
    origin: 'drawn',
  };
  return { ...doc, runs: tableFrom([run]), counters: { ...doc.counters, r: 1 } };
}

describe('lighting laid beside runs drawn by hand', () => {
  it('asks of no cable more cores than it has, and names what it leaves', () => {
    const seed = freshSeed('cores of lighting');
    const random = seeded(seed);
    const seen = { plans: 0, three: 0, left: 0 };
    for (let i = 0; i < 80; i++) {
      const bare = twoWay(randomPlan(random), random);
      const doc = random() < 0.7 ? withDrawn(bare, random) : bare;
      if (doc === null) continue;
      const plan = planCircuit(routingContext(doc), doc.circuits.byId.c2 as Circuit, ALL_WAYS);
      const { doc: laid, made } = withSuggestion(doc, [plan]);
      const where = `seed ${seed} plan ${i}`;
      const short = deriveAll(laid).findings.filter((f) => f.rule === 'too-few-cores');
      expect(
        short.map((f) => f.message),
        where,
      ).toEqual([]);
      const met = new Set(rows(laid.runs).flatMap((r) => [r.from, r.to]));
      const alone = rows(laid.points).filter((p) => p.circuit === 'c2' && !met.has(p.id));
      if (alone.length > 0) {
        expect(plan.blocked.length, where).toBeGreaterThan(0);
        for (const p of alone)
          expect(
            // Where the board itself is on no legal line nothing is laid at all.
            plan.blocked.some((said) => said.includes(p.label) || said.includes('P1 ')),
            `${where} ${p.label}`,
          ).toBe(true);
      }
      seen.plans += 1;
      seen.left += plan.blocked.length;
      seen.three += made.filter(
        (id) => (laid.cables.byId[laid.runs.byId[id]?.cable ?? '']?.cores ?? 0) > 2,
      ).length;
    }
    expect(seen.plans).toBeGreaterThan(30);
    expect(seen.three).toBeGreaterThan(10);
  });
});

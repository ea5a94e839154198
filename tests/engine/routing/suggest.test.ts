import createGraph from 'ngraph.graph';
import ngraphPath from 'ngraph.path';
import { describe, expect, it } from 'vitest';
import { resolveRun } from '../../../src/engine/fabric/resolve.ts';
import { COINCIDENT } from '../../../src/engine/fabric/tolerances.ts';
import type { Circuit } from '../../../src/engine/model/document.ts';
import { rows } from '../../../src/engine/model/tables.ts';
import { circuitPoints, planCircuit } from '../../../src/engine/routing/circuitPlan.ts';
import { plansApart } from '../../../src/engine/routing/lanes.ts';
import { routingContext } from '../../../src/engine/routing/context.ts';
import { plannerFor } from '../../../src/engine/routing/planner.ts';
import { distanceTo, search } from '../../../src/engine/routing/shortestPath.ts';
import { ALL_WAYS } from '../../../src/engine/routing/types.ts';
import { checkRun } from '../../../src/engine/zones/checkRun.ts';
import { freshSeed, seeded } from '../../random.ts';
import { randomPlan, suggestedRun } from './randomPlan.ts';

describe('suggested runs', () => {
  it('on 1,000 random plans every one, moved clear of its neighbours, passes the zone check, and is as long as it says', () => {
    const seed = freshSeed('suggested runs');
    let checked = 0;
    let moved = 0;
    for (let round = 0; round < 1000; round += 1) {
      const doc = randomPlan(seeded(seed + round));
      const ctx = routingContext(doc);
      const straight = rows(doc.circuits).map((circuit) => planCircuit(ctx, circuit, ALL_WAYS));
      for (const plan of plansApart(ctx, straight)) {
        const circuit = doc.circuits.byId[plan.circuit] as Circuit;
        const before = straight.find((p) => p.circuit === plan.circuit);
        plan.runs.forEach((suggested, i) => {
          const run = suggestedRun({ ...suggested, id: `r${i}`, circuit: circuit.id });
          const resolved = resolveRun(doc, ctx.fabrics, run);
          const check = checkRun(ctx, run, resolved);
          const where = `seed ${seed + round}, ${circuit.id} run ${i}`;
          if (suggested.corners !== before?.runs[i]?.corners) moved += 1;
          expect(resolved.missing, where).toBeNull();
          const length = resolved.legs.reduce((sum, leg) => sum + leg.length, 0);
          // Places within the coincidence tolerance of each other count as one when a run is resolved.
          const slack = COINCIDENT * resolved.legs.length;
          expect(Math.abs(length - 1000 * suggested.count.metres), where).toBeLessThanOrEqual(slack);
          for (const leg of check.legs) {
            expect(leg.leg.kind, where).not.toBe('loose');
            expect(leg.offLevel, where).toBe(0);
            expect(leg.crossings, where).toEqual([]);
            expect(['outside', 'disputed'], where).not.toContain(leg.answer);
          }
          checked += 1;
        });
        // Whatever is not routed is accounted for.
        if (plan.blocked.length === 0) {
          const met = new Set(plan.runs.flatMap((r) => [r.from, r.to]));
          for (const p of circuitPoints(ctx, circuit))
            expect(met, `seed ${seed + round} ${p.id}`).toContain(p.id);
        }
      }
    }
    expect(checked).toBeGreaterThan(3000);
    expect(moved).toBeGreaterThan(300);
  }, 600_000);

  it('on 500 random plans the way costs what ngraph.path finds on the same graph', () => {
    const seed = freshSeed('ways');
    let compared = 0;
    for (let round = 0; round < 500; round += 1) {
      const doc = randomPlan(seeded(seed + round));
      const { net, space } = plannerFor(routingContext(doc), rows(doc.circuits)[0] ?? null, ALL_WAYS).atBoard;
      const { start, target, cost, nodes } = net.graph;
      const reference = createGraph({ multigraph: true });
      for (let n = 0; n < nodes; n += 1) reference.addNode(n);
      for (let n = 0; n < nodes; n += 1)
        for (let e = start[n] as number; e < (start[n + 1] as number); e += 1)
          if (n <= (target[e] as number)) reference.addLink(n, target[e] as number, cost[e]);
      const least = new Map<string, number>();
      reference.forEachLink((link) => {
        const key = [link.fromId, link.toId]
          .map(Number)
          .sort((a, b) => a - b)
          .join();
        least.set(key, Math.min(least.get(key) ?? Infinity, link.data as number));
      });
      const finder = ngraphPath.aStar(reference, { distance: (_a, _b, link) => link.data as number });
      const ends = [...net.terminals.values()].map((t) => 2 * t);
      if (ends.length < 2) continue;
      search(net.graph, space, ends[0] as number, null);
      const goal = ends[1 + (round % (ends.length - 1))] as number;
      const path = finder.find(ends[0] as number, goal).map((n) => Number(n.id));
      const theirs = path.slice(1).reduce((sum, node, i) => {
        const key = [path[i] as number, node].sort((a, b) => a - b).join();
        return sum + (least.get(key) as number);
      }, 0);
      expect(distanceTo(space, goal), `seed ${seed + round}`).toBeCloseTo(
        path.length === 0 ? Infinity : theirs,
        9,
      );
      compared += 1;
    }
    expect(compared).toBeGreaterThan(400);
  });
});

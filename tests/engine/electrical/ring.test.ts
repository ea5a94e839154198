import fc from 'fast-check';
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import type { NetEdge, Net } from '../../../src/engine/electrical/net.ts';
import { nodalVolts } from '../../../src/engine/electrical/solve.ts';
import { coolerFactor, ringDrop } from '../../../src/engine/electrical/drop.ts';
import { expectedReadings } from '../../../src/engine/electrical/readings.ts';
import { DEFAULT_CABLES } from '../../../src/engine/model/defaults.ts';
import type { Cable } from '../../../src/engine/model/document.ts';
import { freshSeed } from '../../random.ts';
import { point, run } from '../takeoff/plan.ts';
import { aCircuit } from '../zones/faces.ts';

// Ω/m at 20 °C typed here from BS EN 60228, apart from the code.
const OHM: Readonly<Record<number, number>> = { 1: 0.0181, 1.5: 0.0121, 2.5: 0.00741, 4: 0.00461 };
const cables = ['te2-5', 'te4', 'te1-5'].map((id) => DEFAULT_CABLES.find((c) => c.id === id) as Cable);

interface Plan {
  readonly ring: readonly { readonly metres: number; readonly cable: number }[];
  readonly spurs: readonly { readonly at: number; readonly metres: number; readonly cable: number }[];
}

const part = { metres: fc.double({ min: 0.5, max: 30, noNaN: true }), cable: fc.nat({ max: 2 }) };
const plans: fc.Arbitrary<Plan> = fc.record({
  ring: fc.array(fc.record(part), { minLength: 2, maxLength: 9 }),
  spurs: fc.array(fc.record({ ...part, at: fc.nat({ max: 20 }) }), { maxLength: 5 }),
});

/** p0 is the board, p1 to pn stand on the ring, s0 and on are spurs (some hang on spurs). */
function netOf(plan: Plan): Net {
  const n = plan.ring.length - 1;
  const onRing = Array.from({ length: n }, (_, i) => `p${i + 1}`);
  const edge = (id: string, a: string, b: string, metres: number, cable: number): NetEdge => ({
    run: run(id, a, b, { cable: cables[cable]?.id ?? '' }),
    a,
    b,
    cable: cables[cable] as Cable,
    drawnMm: metres * 1000,
    lengthMm: metres * 1000,
  });
  const ring = plan.ring.map((e, i) =>
    // Some runs are drawn the other way about.
    i % 2 === 0
      ? edge(`r${i}`, `p${i}`, `p${(i + 1) % (n + 1)}`, e.metres, e.cable)
      : edge(`r${i}`, `p${(i + 1) % (n + 1)}`, `p${i}`, e.metres, e.cable),
  );
  const hosts = [...onRing];
  const spurs = plan.spurs.map((s, i) => {
    const host = hosts[s.at % hosts.length] as string;
    hosts.push(`s${i}`);
    return edge(`x${i}`, host, `s${i}`, s.metres, s.cable);
  });
  return {
    circuit: aCircuit('c1', { topology: 'ring' }),
    board: point('p0', 'consumer-unit'),
    points: ['p0', ...hosts].map((id) => point(id, id === 'p0' ? 'consumer-unit' : 'socket')),
    edges: [...ring, ...spurs],
    loop: new Set(ring.map((_, i) => i)),
    problem: null,
  };
}

/** Resistance between two nodes of a network, by the nodal equations solved with ml-matrix. */
function between(
  nodes: readonly string[],
  wires: readonly [string, string, number][],
  a: string,
  b: string,
): number {
  const index = new Map(nodes.filter((x) => x !== b).map((x, i) => [x, i]));
  const g = Matrix.zeros(index.size, index.size);
  for (const [p, q, ohm] of wires) {
    const [i, j] = [index.get(p), index.get(q)];
    if (i !== undefined) g.set(i, i, g.get(i, i) + 1 / ohm);
    if (j !== undefined) g.set(j, j, g.get(j, j) + 1 / ohm);
    if (i !== undefined && j !== undefined) {
      g.set(i, j, g.get(i, j) - 1 / ohm);
      g.set(j, i, g.get(j, i) - 1 / ohm);
    }
  }
  const one = Matrix.zeros(index.size, 1);
  const at = index.get(a) as number;
  one.set(at, 0, 1);
  return solve(g, one).get(at, 0);
}

/** The ring with its ends apart: board end A is p0, end B is q0. `how` joins the ends. */
function wiresOf(plan: Plan, other: 'neutral' | 'cpc', how: 'crossed' | 'closed') {
  const net = netOf(plan);
  const wires: [string, string, number][] = [];
  const nodes = new Set<string>();
  const last = plan.ring.length - 1;
  net.edges.forEach((e, i) => {
    const isLast = i === last;
    const name = (id: string) => (isLast && id === 'p0' ? 'q0' : id);
    for (const which of ['L', other]) {
      const csa = which === 'cpc' ? (e.cable?.cpc ?? 0) : (e.cable?.csa ?? 0);
      const [a, b] = [`${which} ${name(e.a)}`, `${which} ${name(e.b)}`];
      wires.push([a, b, ((OHM[csa] as number) * e.lengthMm) / 1000]);
      nodes.add(a).add(b);
    }
  });
  // A join of a billionth of an ohm.
  const join = (a: string, b: string) => wires.push([a, b, 1e-9]);
  if (how === 'crossed') {
    join('L p0', `${other} q0`);
    join('L q0', `${other} p0`);
  } else {
    join('L p0', 'L q0');
    join(`${other} p0`, `${other} q0`);
    join('L p0', `${other} p0`);
  }
  return { net, nodes: [...nodes], wires };
}

describe('readings of random rings with spurs, of mixed sizes, against the nodal equations', () => {
  test('crossed at every socket, line to neutral and line to protective conductor; closed at the board', () => {
    const seed = freshSeed('ring readings');
    fc.assert(
      fc.property(plans, (plan) => {
        const readings = expectedReadings(netOf(plan), null, 20, 0);
        expect(readings.problem).toBeNull();
        for (const [kind, other, how] of [
          ['ring-line-neutral', 'neutral', 'crossed'],
          ['ring-line-earth', 'cpc', 'crossed'],
          ['r1r2', 'cpc', 'closed'],
        ] as const) {
          const { nodes, wires, net } = wiresOf(plan, other, how);
          const told = readings.expected.filter((e) => e.kind === kind);
          expect(told.map((e) => e.point).sort()).toEqual(
            net.points
              .map((p) => p.id)
              .filter((id) => id !== 'p0')
              .sort(),
          );
          for (const e of told) {
            const reference = between(nodes, wires, `L ${e.point}`, `${other} ${e.point}`);
            expect(Math.abs(e.expected - reference)).toBeLessThan(1e-6);
          }
        }
      }),
      { seed, numRuns: 150 },
    );
  });

  test('end to end: the sums of BS EN 60228, warmer by 0.4 % a degree', () => {
    const plan: Plan = {
      ring: [
        { metres: 20, cable: 0 },
        { metres: 40, cable: 0 },
      ],
      spurs: [],
    };
    for (const [celsius, factor] of [
      [20, 1],
      [10, 0.96],
      [30, 1.04],
    ] as const) {
      const { expected } = expectedReadings(netOf(plan), null, celsius, 0);
      const value = (kind: string) => expected.find((e) => e.kind === kind)?.expected ?? NaN;
      expect(value('r1')).toBeCloseTo(60 * 0.00741 * factor, 10);
      expect(value('rn')).toBeCloseTo(60 * 0.00741 * factor, 10);
      expect(value('r2')).toBeCloseTo(60 * 0.0121 * factor, 10);
    }
  });

  test('even cable: least beside the board, greatest half-way round, as the closed form has it', () => {
    const ring = Array.from({ length: 11 }, () => ({ metres: 6, cable: 0 }));
    const { expected } = expectedReadings(netOf({ ring, spurs: [] }), null, 20, 0);
    const [r1, r2] = [66 * 0.00741, 66 * 0.0121];
    for (let i = 1; i <= 10; i++) {
      const x = i / 11;
      const formula = ((x * r1 + (1 - x) * r2) * ((1 - x) * r1 + x * r2)) / (r1 + r2);
      const told = expected.find((e) => e.kind === 'ring-line-earth' && e.point === `p${i}`);
      expect(told?.expected).toBeCloseTo(formula, 10);
    }
  });

  test('the band: metres without tails less the error, to metres with tails and the error', () => {
    const net = netOf({
      ring: [
        { metres: 10, cable: 0 },
        { metres: 10, cable: 0 },
      ],
      spurs: [],
    });
    const shorter = { ...net, edges: net.edges.map((e) => ({ ...e, drawnMm: e.drawnMm - 500 })) };
    const r1 = expectedReadings(shorter, null, 20, 10).expected.find((e) => e.kind === 'r1');
    expect(r1?.expected).toBeCloseTo(20 * 0.00741, 10);
    expect(r1?.low).toBeCloseTo(19 * 0.99 * 0.00741, 10);
    expect(r1?.high).toBeCloseTo(20 * 1.01 * 0.00741, 10);
  });
});

describe('drop of a ring', () => {
  test('the own elimination agrees with ml-matrix on random networks', () => {
    const seed = freshSeed('nodal');
    const wires = fc.array(fc.tuple(fc.nat({ max: 40 }), fc.double({ min: 0.01, max: 5, noNaN: true })), {
      minLength: 1,
      maxLength: 12,
    });
    fc.assert(
      fc.property(wires, fc.array(fc.nat({ max: 9 }), { maxLength: 6 }), (tree, extra) => {
        // A tree, so that all is joined, and some more between nodes.
        const resistors = tree.map(([to, ohm], i) => ({ a: i + 1, b: to % (i + 1), ohm }));
        const count = tree.length + 1;
        for (const e of extra) resistors.push({ a: e % count, b: (e * 7 + 3) % count, ohm: 0.5 + e });
        const used = resistors.filter((r) => r.a !== r.b);
        const drawn = Array.from({ length: count }, (_, i) => i * 0.7);
        const volts = nodalVolts(count, used, drawn);
        const g = Matrix.zeros(count - 1, count - 1);
        for (const { a, b, ohm } of used) {
          for (const [i, j, sign] of [
            [a, a, 1],
            [b, b, 1],
            [a, b, -1],
            [b, a, -1],
          ] as const) {
            if (i > 0 && j > 0) g.set(i - 1, j - 1, g.get(i - 1, j - 1) + sign / ohm);
          }
        }
        const reference = solve(g, Matrix.columnVector(drawn.slice(1).map((x) => -x)));
        volts
          .slice(1)
          .forEach((v, i) =>
            expect(Math.abs(v - reference.get(i, 0))).toBeLessThan(1e-8 * (1 + Math.abs(v))),
          );
      }),
      { seed, numRuns: 150 },
    );
  });

  test('many even sockets: near 26 A at the far point of the loop (OSG 7.2.2)', () => {
    const ring = Array.from({ length: 200 }, () => ({ metres: 0.5, cable: 0 }));
    const drop = ringDrop(netOf({ ring, spurs: [] }), 32, coolerFactor(13, 20, 1), 230);
    // 26 A x 18 mV/A/m x 100 m / 4 = 11.7 V at 70 °C, less as the legs run cooler.
    expect(((drop?.volts ?? NaN) / (300 - (1 - 0.65 ** 2) * 40)) * 300).toBeCloseTo(11.7, 1);
    expect(drop?.at).toBe('p100');
  });
});

import { describe, expect, it } from 'vitest';
import type { Circuit, Run } from '../../../src/engine/model/document.ts';
import { aCircuit, aPoint, aRun } from '../zones/faces.ts';
import { aBoard, found, plan, rulesOf } from './plans.ts';

// Three sockets on the north wall and a board; runs go by the top band, so that nothing but the circuit is in question.
const at: Record<string, number> = { p1: 500, p2: 1500, p3: 2500, p4: 3500 };
const points = [aBoard(), ...['p2', 'p3', 'p4'].map((id) => aPoint(id, { along: at[id] ?? 0 }))];
const run = (id: string, from: string, to: string, over: Partial<Run> = {}): Run =>
  aRun(id, {
    from,
    to,
    corners: [from, to].map((p) => ({ on: 'face', wall: 'w1', side: 'right', along: at[p] ?? 0, z: 2300 })),
    ...over,
  });
const ring = (over: Partial<Circuit> = {}) => [aCircuit('c1', { board: 'p1', topology: 'ring', ...over })];
const radial = [aCircuit('c1', { board: 'p1' })];

const OUT = run('r1', 'p1', 'p2');
const ON = run('r2', 'p2', 'p3');
const FURTHER = run('r3', 'p3', 'p4');
const BACK = run('r4', 'p4', 'p1');

describe('a ring', () => {
  it('that goes out and comes back is whole', () => {
    expect(rulesOf(plan(points, [OUT, ON, FURTHER, BACK], ring()))).toEqual([]);
  });

  it('may carry a spur', () => {
    const closed = [OUT, ON, run('r4', 'p3', 'p1'), run('r5', 'p3', 'p4')];
    expect(rulesOf(plan(points, closed, ring()))).toEqual([]);
  });

  it('without its last run is open at its last point', () => {
    const [finding] = found(plan(points, [OUT, ON, FURTHER], ring()), 'ring-open');
    expect(finding?.message).toContain('does not come back to P1: it is open, and ends at P4');
    expect(rulesOf(plan(points, [OUT, ON, FURTHER], ring()))).toEqual(['ring-open']);
  });

  it('without a run in the middle is open between two points', () => {
    const doc = plan(points, [OUT, FURTHER, BACK], ring());
    expect(rulesOf(doc)).toEqual(['ring-open']);
    expect(found(doc, 'ring-open')[0]?.fix).toContain('between P2 and P3');
  });

  it('with a second loop is bridged', () => {
    const doc = plan(points, [OUT, ON, FURTHER, BACK, run('r5', 'p2', 'p4')], ring());
    expect(found(doc, 'ring-open')[0]?.message).toContain(
      'bridged: P2 and P4 have more than two ring cables',
    );
  });

  it('with a third end at the board is told', () => {
    const doc = plan(points, [OUT, ON, FURTHER, BACK, run('r5', 'p1', 'p3')], ring());
    expect(found(doc, 'ring-open')[0]?.message).toContain('has 3 ends at P1; a ring has two');
  });

  it('two runs between the same two points are a loop', () => {
    const two = [run('r1', 'p1', 'p2'), run('r2', 'p1', 'p2')];
    expect(found(plan(points.slice(0, 2), two, ring()), 'ring-open')).toEqual([]);
  });
});

describe('joined to the board', () => {
  it('a radial chain is', () => {
    expect(rulesOf(plan(points, [OUT, ON, FURTHER], radial))).toEqual([]);
  });

  it('no run at the board: told once for the circuit', () => {
    const doc = plan(points, [ON, FURTHER], radial);
    expect(found(doc, 'circuit-not-reaching-board').map((f) => f.message)).toEqual([
      'Circuit C1 (Sockets) never gets back to its consumer unit P1: no run of it ends there.',
    ]);
    // P2 to P4 are joined to each other and not to the board; none of them is without a run.
    expect(rulesOf(doc)).toEqual(['circuit-not-reaching-board']);
  });

  it('a group left out is named', () => {
    const doc = plan(points, [OUT, FURTHER], radial);
    expect(found(doc, 'circuit-not-reaching-board')[0]?.message).toContain(
      'P3 and P4 are joined to each other but not joined to the consumer unit P1',
    );
  });

  it('a point with no run is unreached, each once', () => {
    const doc = plan(points, [OUT], radial);
    expect(found(doc, 'point-unreached').map((f) => f.point)).toEqual(['p3', 'p4']);
    expect(rulesOf(doc)).toEqual(['point-unreached', 'point-unreached']);
  });

  it('a circuit with no board, or with a socket for one', () => {
    expect(rulesOf(plan(points, [OUT, ON, FURTHER], [aCircuit('c1', { board: null })]))).toEqual([
      'circuit-no-board',
    ]);
    expect(rulesOf(plan(points, [OUT, ON, FURTHER], [aCircuit('c1', { board: 'p2' })]))).toEqual([
      'circuit-no-board',
    ]);
  });
});

describe('RCD of circuits (BS 7671 411.3.3, 411.3.4)', () => {
  const device = (rcd: number | null) => [
    aCircuit('c1', { board: 'p1', device: { type: 'B', rating: 32, rcd } }),
  ];
  const deep = [OUT, ON, FURTHER].map((r) => ({ ...r, depth: 60 }));

  it('socket-outlets need 30 mA', () => {
    expect(rulesOf(plan(points, deep, device(30)))).toEqual([]);
    expect(rulesOf(plan(points, deep, device(100)))).toEqual(['socket-no-rcd']);
    expect(found(plan(points, deep, device(null)), 'socket-no-rcd')[0]?.message).toContain('P2, P3 and P4');
  });

  it('lights need 30 mA', () => {
    const lights = points.map((p) => (p.kind === 'socket' ? { ...p, kind: 'wall-light' as const } : p));
    expect(rulesOf(plan(lights, deep, device(null)))).toEqual(['luminaire-no-rcd']);
  });
});

import { describe, expect, test } from 'vitest';
import type { Net, NetEdge } from '../../../src/engine/electrical/net.ts';
import { wiringOf } from '../../../src/engine/electrical/wiring.ts';
import { branchDrop } from '../../../src/engine/electrical/drop.ts';
import { expectedReadings } from '../../../src/engine/electrical/readings.ts';
import { diagramOf } from '../../../src/engine/electrical/diagram.ts';
import { DEFAULT_CABLES } from '../../../src/engine/model/defaults.ts';
import type { Cable, Point } from '../../../src/engine/model/document.ts';
import { point, run } from '../takeoff/plan.ts';
import { aCircuit } from '../zones/faces.ts';

const two = DEFAULT_CABLES.find((c) => c.id === 'te1-5') as Cable;
const three = DEFAULT_CABLES.find((c) => c.id === 'tce1-5') as Cable;

/** Edges as "a-b metres" or "a=b metres" for three-core. The board is `b`. */
function net(points: readonly Point[], edges: readonly string[]): Net {
  return {
    circuit: aCircuit('c1', { topology: 'lighting' }),
    board: point('b', 'consumer-unit'),
    points: [point('b', 'consumer-unit'), ...points],
    edges: edges.map((text): NetEdge => {
      const [ends, metres] = text.split(' ') as [string, string];
      const cable = ends.includes('=') ? three : two;
      const [a, b] = ends.split(/[-=]/) as [string, string];
      const mm = Number(metres) * 1000;
      return { run: run(`${a}${b}`, a, b), a, b, cable, drawnMm: mm, lengthMm: mm };
    }),
    loop: new Set(),
    problem: null,
  };
}

const coresOf = (n: Net) =>
  Object.fromEntries((wiringOf(n)?.runs ?? []).map((r) => [r.run, r.cores.map((c) => c.does).sort()]));

const light = (id: string, load = 100) => point(id, 'ceiling-light', { load });
const oneWay = (id: string, controls: string[]) => point(id, 'switch-1way', { controls: [controls] });
const twoWay = (id: string, controls: string[]) => point(id, 'switch-2way', { controls: [controls] });

describe('cores', () => {
  test('one switch, looped in at the light: line down and switched line back', () => {
    const n = net([light('l'), oneWay('s', ['l'])], ['b-l 5', 'l-s 3']);
    expect(coresOf(n)).toEqual({
      bl: ['neutral', 'permanent line'],
      ls: ['permanent line', 'switched line'],
    });
  });

  test('fed at the switch: line and neutral to it, switched line and neutral on', () => {
    const n = net([light('l'), oneWay('s', ['l'])], ['b-s 5', 's-l 3']);
    expect(coresOf(n)).toEqual({ bs: ['neutral', 'permanent line'], sl: ['neutral', 'switched line'] });
  });

  test('two-way: three-core between the switches, strappers named', () => {
    const n = net([light('l'), twoWay('s', ['l']), twoWay('t', ['l'])], ['b-l 5', 'l-s 3', 's=t 8']);
    expect(coresOf(n)).toMatchObject({ st: ['strapper', 'strapper', 'switched line'] });
    const wiring = wiringOf(n);
    expect(wiring?.groups).toEqual([
      {
        key: 's.0 t.0',
        switches: expect.arrayContaining(['s', 't']),
        gangs: [0, 0],
        loads: ['l'],
        how: 'two-way',
      },
    ]);
    expect(wiring?.runs.find((r) => r.run === 'st')).toMatchObject({ threeCore: true, available: 3 });
    expect(wiring?.runs.find((r) => r.run === 'st')?.why).toMatch(
      /^2 x strapper between [ST], [ST], switched line of L$/,
    );
  });

  test('each gang of a plate has its own lights and its own partner', () => {
    // Gang 1 of S works L alone; gang 2 works M together with T, two-way. By hand, up the tree from the board:
    // b-s carries the feed of both gangs (line) and both neutrals: 2 cores. s-l: neutral and the switched line of L.
    // s-t: two strappers, and what M needs beyond T: its neutral, 3 cores. t-m: neutral and the switched line of M.
    const n = net(
      [
        light('l'),
        light('m'),
        point('s', 'switch-2way', { gangs: 2, controls: [['l'], ['m']] }),
        twoWay('t', ['m']),
      ],
      ['b-s 5', 's-l 3', 's=t 8', 't-m 2'],
    );
    expect(coresOf(n)).toEqual({
      bs: ['neutral', 'permanent line'],
      sl: ['neutral', 'switched line'],
      st: ['neutral', 'strapper', 'strapper'],
      tm: ['neutral', 'switched line'],
    });
    const wiring = wiringOf(n);
    expect(wiring?.groups.map((g) => [g.how, g.loads, g.switches, g.gangs])).toEqual([
      ['one-way', ['l'], ['s'], [0]],
      ['two-way', ['m'], ['s', 't'], [1, 0]],
    ]);
    expect(wiring?.runs.find((r) => r.run === 'st')?.why).toContain('S gang 2, T');
    // As one gang both lights would be on one switched line: that is another plan.
    const one = net(
      [light('l'), light('m'), twoWay('s', ['l', 'm']), twoWay('t', ['m'])],
      ['b-s 5', 's-l 3', 's=t 8', 't-m 2'],
    );
    expect(wiringOf(one)?.groups).toHaveLength(2);
    expect(wiringOf(one)?.groups[0]?.gangs).toEqual([0]);
  });

  test('two-way with the light between the switches needs three cores on both sides', () => {
    const n = net([light('l'), twoWay('s', ['l']), twoWay('t', ['l'])], ['b-s 5', 's=l 3', 'l=t 8']);
    // From the first switch: strappers past the light to the second, whose switched line comes back; neutral to the light.
    expect(coresOf(n)).toEqual({
      bs: ['neutral', 'permanent line'],
      sl: ['neutral', 'strapper', 'strapper'],
      lt: ['strapper', 'strapper', 'switched line'],
    });
  });

  test('intermediate: it stands between the two-way switches, with strappers on both sides', () => {
    const n = net(
      [
        light('l'),
        twoWay('s', ['l']),
        point('i', 'switch-intermediate', { controls: [['l']] }),
        twoWay('t', ['l']),
      ],
      ['b-l 5', 'l-s 3', 's=i 4', 'i=t 4'],
    );
    expect(wiringOf(n)?.groups[0]?.switches[1]).toBe('i');
    expect(coresOf(n)).toMatchObject({
      si: ['strapper', 'strapper', 'switched line'],
      it: ['strapper', 'strapper', 'switched line'],
    });
  });

  test('a fan worked with a light has a permanent line for its timer; a fan by itself has none', () => {
    const fan = point('f', 'extractor', { load: 15 });
    const both = net([light('l'), fan, oneWay('s', ['l', 'f'])], ['b-l 5', 'l-s 3', 'l=f 2']);
    expect(coresOf(both).lf).toEqual(['neutral', 'permanent line', 'switched line']);
    const alone = net([fan, oneWay('s', ['f'])], ['b-s 5', 's-f 2']);
    expect(coresOf(alone).sf).toEqual(['neutral', 'switched line']);
  });

  test('alarms of a circuit are linked', () => {
    const n = net([point('m', 'smoke-alarm'), point('h', 'heat-alarm')], ['b-m 5', 'm=h 6']);
    expect(coresOf(n)).toEqual({
      bm: ['neutral', 'permanent line'],
      mh: ['interlink', 'neutral', 'permanent line'],
    });
  });

  test('a switch that works nothing here is said to be idle', () => {
    expect(wiringOf(net([light('l'), oneWay('s', [])], ['b-l 5', 'l-s 3']))?.idle).toEqual(['s']);
  });

  test('a circuit that does not hang together has no wiring', () => {
    expect(wiringOf({ ...net([light('l')], ['b-l 5']), problem: 'open' })).toBeNull();
  });
});

describe('drop and R1 + R2 go the way the current goes', () => {
  const n = net([light('l', 230), light('m', 460), oneWay('s', ['l'])], ['b-l 10', 'l-s 4', 'l-m 6']);
  const wiring = wiringOf(n);
  if (wiring === null) throw new Error('no wiring');

  test('by hand: 3 A to the first light, 1 A down to the switch and back, 2 A on to the second light', () => {
    const current = { amps: 2, how: 'loads', working: '', unstated: [] } as const;
    const drop = branchDrop(n, wiring, current, 230);
    // 29 mV/A/m. l: 3 A x 10 m + 1 A x 4 m = 34 A m. m: 3 A x 10 m + 2 A x 6 m = 42 A m.
    expect(drop?.at).toBe('m');
    expect(drop?.volts).toBeCloseTo((42 * 29) / 1000, 9);
    const without = branchDrop(
      { ...n, edges: n.edges.map((e) => (e.run.id === 'ls' ? { ...e, lengthMm: 20_000 } : e)) },
      wiring,
      current,
      230,
    );
    expect(without?.at).toBe('l');
    expect(without?.volts).toBeCloseTo(((3 * 10 + 1 * 20) * 29) / 1000, 9);
  });

  test('the line of a switched light goes down to its switch and back, its protective conductor does not', () => {
    const { expected, furthest } = expectedReadings(n, wiring, 20, 0);
    const at = (p: string) => expected.find((e) => e.point === p)?.expected;
    expect(at('l')).toBeCloseTo((10 + 4 + 4) * 0.0121 + 10 * 0.0181, 10);
    expect(at('s')).toBeCloseTo((10 + 4) * 0.0121 + 14 * 0.0181, 10);
    expect(at('m')).toBeCloseTo(16 * (0.0121 + 0.0181), 10);
    expect(furthest).toBe('m');
  });

  test('the diagram is a tree from the board', () => {
    const diagram = diagramOf(n, wiring);
    expect(diagram.shape).toBe('tree');
    expect(diagram.nodes.map((x) => [x.point, x.parent, x.depth])).toEqual([
      ['b', null, 0],
      ['l', 'b', 1],
      ['m', 'l', 2],
      ['s', 'l', 2],
    ]);
    expect(diagram.edges.map((e) => [e.from, e.to, e.part])).toEqual([
      ['b', 'l', 'branch'],
      ['l', 's', 'branch'],
      ['l', 'm', 'branch'],
    ]);
  });
});

import type { Id, Reading } from '../model/document.ts';
import type { Mm, Ohm } from '../model/units.ts';
import { ringOrder, treeFrom, wayUp, type Net, type NetEdge } from './net.ts';
import { SIZES, type Size } from './tables/ratings.ts';
import { CPC, ohmPerMetre } from './tables/resistance.ts';
import type { Wiring } from './wiring.ts';

/** What a meter should read. Ω; `low` to `high` is the band from the lengths alone, not from the instrument. */
export interface ExpectedReading {
  readonly circuit: Id;
  readonly kind: Reading['kind'];
  readonly point: Id | null;
  /** For a cable tested by itself, both its ends free. */
  readonly run: Id | null;
  readonly expected: Ohm;
  readonly low: Ohm;
  readonly high: Ohm;
  readonly working: string;
  /** Runs it goes along, for telling which is missing or of another size. */
  readonly parts: readonly ReadingPart[];
}

/** What one run adds to a reading when it is there, and what it would add in other sizes of cable. */
export interface ReadingPart {
  readonly run: Id;
  readonly label: string;
  readonly metres: number;
  /** mm² of its line. */
  readonly csa: number;
  readonly ohm: Ohm;
  readonly inSizes: readonly { readonly size: Size; readonly ohm: Ohm }[];
}

export interface Readings {
  readonly expected: readonly ExpectedReading[];
  /** The point with the greatest R1 + R2. */
  readonly furthest: Id | null;
  /** Why there are none; null when there are. */
  readonly problem: string | null;
}

/** Resistance of one run's conductors at a temperature, Ω. */
export interface EdgeOhm {
  readonly line: Ohm;
  readonly cpc: Ohm;
}

export function edgeOhm(
  edge: { readonly cable: { readonly csa: number; readonly cpc: number } | null },
  celsius: number,
  lengthMm: Mm,
): EdgeOhm | null {
  const line = edge.cable === null ? null : ohmPerMetre(edge.cable.csa, celsius);
  const cpc = edge.cable === null ? null : ohmPerMetre(edge.cable.cpc, celsius);
  return line === null || cpc === null
    ? null
    : { line: (line * lengthMm) / 1000, cpc: (cpc * lengthMm) / 1000 };
}

/**
 * Reading at a socket of a ring with its ends crossed over: line of one end to the other conductor of the other end.
 * `a` and `b`: resistance of the line from the socket to each end; `c` and `d`: of the other conductor. From the
 * socket's line the meter's current goes by (a, then d) and by (b, then c), side by side. With even cable and x the
 * fraction round the ring that is (x r1 + (1-x) r2)((1-x) r1 + x r2)/(r1 + r2).
 */
export function crossedReading(a: Ohm, b: Ohm, c: Ohm, d: Ohm): Ohm {
  const sum = a + b + c + d;
  return sum === 0 ? 0 : ((a + d) * (b + c)) / sum;
}

/** R1 + R2 (line) to every point: twice the way when it goes down to a switch and back. */
export interface LoopOhm {
  readonly line: Ohm;
  readonly cpc: Ohm;
}

interface Values {
  readonly ring: { readonly r1: Ohm; readonly r2: Ohm } | null;
  readonly crossedN: ReadonlyMap<Id, Ohm>;
  readonly crossedE: ReadonlyMap<Id, Ohm>;
  readonly loop: ReadonlyMap<Id, LoopOhm>;
}

/** All the sums, with one choice of length for every run. Null where a cable's size is in no table. */
function values(net: Net, wiring: Wiring | null, celsius: number, mm: (e: NetEdge) => Mm): Values | null {
  const ohms: EdgeOhm[] = [];
  for (const e of net.edges) {
    const ohm = edgeOhm(e, celsius, mm(e));
    if (ohm === null) return null;
    ohms.push(ohm);
  }
  const crossedN = new Map<Id, Ohm>();
  const crossedE = new Map<Id, Ohm>();
  const loop = new Map<Id, LoopOhm>();
  const sum = (edges: readonly number[], which: keyof EdgeOhm) =>
    edges.reduce((s, e) => s + (ohms[e]?.[which] ?? 0), 0);
  const order = ringOrder(net);
  if (net.circuit.topology !== 'ring') {
    const tree = treeFrom(net, net.board === null ? [] : [net.board.id], () => true);
    for (const p of net.points) {
      if (p.id === net.board?.id) continue;
      const line = wiring?.lineTo.get(p.id) ?? wayUp(tree, p.id);
      loop.set(p.id, { line: sum(line, 'line'), cpc: sum(wayUp(tree, p.id), 'cpc') });
    }
    return { ring: null, crossedN, crossedE, loop };
  }
  const around = order.map((o) => o.edge);
  const [r1, r2] = [sum(around, 'line'), sum(around, 'cpc')];
  const onRing = order.slice(0, -1).map((o) => o.to);
  const spurs = treeFrom(net, [...onRing, net.board?.id ?? ''], (i) => !net.loop.has(i));
  onRing.forEach((id, i) => {
    const before = around.slice(0, i + 1);
    const [a, c] = [sum(before, 'line'), sum(before, 'cpc')];
    crossedN.set(id, crossedReading(a, r1 - a, a, r1 - a));
    crossedE.set(id, crossedReading(a, r1 - a, c, r2 - c));
    // With the ends joined as they will be, both ways round stand side by side in each conductor.
    loop.set(id, { line: besides(a, r1 - a), cpc: besides(c, r2 - c) });
  });
  for (const p of net.points) {
    const way = wayUp(spurs, p.id);
    if (way.length === 0) continue;
    const root = rootOf(spurs, p.id);
    const [line, cpc] = [sum(way, 'line'), sum(way, 'cpc')];
    const [n, e, l] = [crossedN.get(root), crossedE.get(root), loop.get(root)];
    if (n !== undefined) crossedN.set(p.id, n + 2 * line);
    if (e !== undefined) crossedE.set(p.id, e + line + cpc);
    loop.set(p.id, { line: (l?.line ?? 0) + line, cpc: (l?.cpc ?? 0) + cpc });
  }
  return { ring: { r1, r2 }, crossedN, crossedE, loop };
}

/** Two resistances side by side. */
const besides = (a: Ohm, b: Ohm): Ohm => (a + b === 0 ? 0 : (a * b) / (a + b));

function rootOf(tree: ReturnType<typeof treeFrom>, point: Id): Id {
  let at = point;
  for (let up = tree.get(at); up !== undefined; up = tree.get(at)) at = up.from;
  return at;
}

/** R1 and R2 to each point at a temperature, for the loop impedance. Null where they cannot be worked out. */
export function loopOhms(net: Net, wiring: Wiring | null, celsius: number): ReadonlyMap<Id, LoopOhm> | null {
  return net.problem === null ? (values(net, wiring, celsius, (e) => e.lengthMm)?.loop ?? null) : null;
}

const total = ({ line, cpc }: LoopOhm): Ohm => line + cpc;

/** The point with the greatest R1 + R2, and its resistances. */
export function furthestOf(
  loop: ReadonlyMap<Id, LoopOhm>,
): { readonly at: Id; readonly ohm: LoopOhm } | null {
  let best: { at: Id; ohm: LoopOhm } | null = null;
  for (const [at, ohm] of loop) if (best === null || total(ohm) > total(best.ohm)) best = { at, ohm };
  return best;
}

/**
 * What the meter should read on a circuit, from the drawn metres with their tails. The band: from the metres without
 * tails, less the error of the drawing's scale, to the metres with tails and that error. `errorPerMetre` in mm per m.
 */
export function expectedReadings(
  net: Net,
  wiring: Wiring | null,
  celsius: number,
  errorPerMetre: number,
): Readings {
  if (net.problem !== null) return { expected: [], furthest: null, problem: net.problem };
  const error = errorPerMetre / 1000;
  const middle = values(net, wiring, celsius, (e) => e.lengthMm);
  const low = values(net, wiring, celsius, (e) => e.drawnMm * (1 - error));
  const high = values(net, wiring, celsius, (e) => e.lengthMm * (1 + error));
  if (middle === null || low === null || high === null)
    return { expected: [], furthest: null, problem: 'A cable of it has a size without a row in the tables.' };
  const at = `at ${celsius} °C`;
  const expected: ExpectedReading[] = [];
  const add = (
    kind: Reading['kind'],
    point: Id | null,
    pick: (v: Values) => Ohm | undefined,
    working: string,
    parts: ExpectedReading['parts'],
  ) => {
    const [m, lo, hi] = [pick(middle), pick(low), pick(high)];
    if (m === undefined || lo === undefined || hi === undefined) return;
    expected.push({
      circuit: net.circuit.id,
      kind,
      point,
      run: null,
      expected: m,
      low: lo,
      high: hi,
      working: `${working}, ${at}`,
      parts,
    });
  };
  const part = (edge: number, which: (o: EdgeOhm) => Ohm) =>
    partOf(net.edges[edge] as NetEdge, celsius, which);
  if (middle.ring !== null) {
    const around = ringOrder(net).map((o) => o.edge);
    const line = around.map((e) => part(e, (o) => o.line));
    const cpc = around.map((e) => part(e, (o) => o.cpc));
    add('r1', null, (v) => v.ring?.r1, 'line round the ring, end to end', line);
    add('rn', null, (v) => v.ring?.r1, 'neutral round the ring, end to end', line);
    add('r2', null, (v) => v.ring?.r2, 'protective conductor round the ring, end to end', cpc);
    for (const id of middle.crossedN.keys()) {
      add('ring-line-neutral', id, (v) => v.crossedN.get(id), 'line and neutral of opposite ends joined', []);
      add(
        'ring-line-earth',
        id,
        (v) => v.crossedE.get(id),
        'line and protective conductor of opposite ends joined',
        [],
      );
    }
  }
  const tree = treeFrom(net, net.board === null ? [] : [net.board.id], (i) => !net.loop.has(i));
  for (const id of middle.loop.keys()) {
    const way = wiring?.lineTo.get(id) ?? wayUp(tree, id);
    const parts = middle.ring === null ? wayParts(way, wayUp(tree, id), part) : [];
    const switched = way.length > wayUp(tree, id).length ? ' (through its switch, on)' : '';
    const working =
      middle.ring === null ? `line to the point${switched} and back by the cpc` : 'ring closed at the board';
    add('r1r2', id, (v) => loopTotal(v, id), working, parts);
  }
  return { expected, furthest: furthestOf(middle.loop)?.at ?? null, problem: null };
}

/** What one run adds, by whichever of its conductors is measured. */
function partOf(e: NetEdge, celsius: number, which: (o: EdgeOhm) => Ohm): ReadingPart {
  const { csa, cpc } = e.cable ?? { csa: 0, cpc: 0 };
  const ohmIn = (cable: { csa: number; cpc: number }) => {
    const ohm = edgeOhm({ cable }, celsius, e.lengthMm);
    return ohm === null ? 0 : which(ohm);
  };
  const inSizes = SIZES.filter((size) => Number(size) !== csa).map((size) => ({
    size,
    ohm: ohmIn({ csa: Number(size), cpc: CPC.values[size] }),
  }));
  const { id: run, label } = e.run;
  return { run, label, metres: e.lengthMm / 1000, csa, ohm: ohmIn({ csa, cpc }), inSizes };
}

/** How each kind of reading goes along one cable: `continuity` and `r1r2` with line and cpc joined at its far end. */
const ALONG_RUN: readonly (readonly [Reading['kind'], (o: EdgeOhm) => Ohm, string])[] = [
  ['r1', (o) => o.line, 'line from end to end'],
  ['rn', (o) => o.line, 'neutral from end to end'],
  ['r2', (o) => o.cpc, 'protective conductor from end to end'],
  ['continuity', (o) => o.line + o.cpc, 'line and protective conductor joined at the far end'],
  ['r1r2', (o) => o.line + o.cpc, 'line and protective conductor joined at the far end'],
];

/**
 * What each cable should read by itself, before it is joined to others. It does not need the circuit to hang together.
 * The band is as that of `expectedReadings`.
 */
export function runReadings(net: Net, celsius: number, errorPerMetre: number): ExpectedReading[] {
  const error = errorPerMetre / 1000;
  return net.edges.flatMap((e) => {
    const [middle, low, high] = [e.lengthMm, e.drawnMm * (1 - error), e.lengthMm * (1 + error)].map((mm) =>
      edgeOhm(e, celsius, mm),
    );
    if (!middle || !low || !high) return [];
    return ALONG_RUN.map(([kind, which, how]): ExpectedReading => ({
      circuit: net.circuit.id,
      kind,
      point: null,
      run: e.run.id,
      expected: which(middle),
      low: which(low),
      high: which(high),
      working: `${how}, at ${celsius} °C`,
      parts: [partOf(e, celsius, which)],
    }));
  });
}

const loopTotal = (v: Values, id: Id): Ohm | undefined => {
  const ohm = v.loop.get(id);
  return ohm === undefined ? undefined : total(ohm);
};

function wayParts(
  line: readonly number[],
  cpc: readonly number[],
  part: (edge: number, which: (o: EdgeOhm) => Ohm) => ReadingPart,
): ExpectedReading['parts'] {
  return [...new Set([...line, ...cpc])].map((e) => {
    const times = line.filter((x) => x === e).length;
    const back = cpc.filter((x) => x === e).length;
    return part(e, (o) => o.line * times + o.cpc * back);
  });
}

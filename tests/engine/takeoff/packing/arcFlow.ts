import highsLoader from 'highs';
import { gcdOf } from '../../../../src/engine/takeoff/packing/types.ts';
import type { PackingTask } from '../../../../src/engine/takeoff/packing/types.ts';

/**
 * The packing task as an arc-flow integer programme (J. M. Valério de Carvalho, Annals of Operations Research 86,
 * 1999): a unit of flow along positions 0 to C of a bin, an arc for each piece, a way out at each capacity with its
 * cost. Pieces lie in falling order of size, and only positions that can be reached so are made.
 */
export function arcFlow({ sizes, kinds, owned }: PackingTask, unit = 1): string {
  const demand = new Map<number, number>();
  for (const s of sizes) demand.set(s, (demand.get(s) ?? 0) + 1);
  const distinct = [...demand.keys()].sort((a, b) => b - a);
  const top = Math.max(...kinds.map((k) => k.capacity), ...owned, 0);
  const reached = new Uint8Array(top + 1);
  reached[0] = 1;
  const arcs: { readonly from: number; readonly to: number; readonly size: number }[] = [];
  for (const size of distinct) {
    // Positions reached with pieces no smaller than this, and with up to so many of this size itself.
    let front = [...reached.keys()].filter((p) => reached[p] === 1);
    for (let n = 0; n < (demand.get(size) ?? 0); n++) {
      const next: number[] = [];
      for (const p of front) {
        if (p + size > top) continue;
        arcs.push({ from: p, to: p + size, size });
        next.push(p + size);
      }
      front = next.filter((p) => reached[p] === 0);
      for (const p of next) reached[p] = 1;
      if (front.length === 0) break;
    }
  }
  const unique = [...new Map(arcs.map((a) => [`${a.from}_${a.to}`, a])).values()];
  for (const c of [...kinds.map((k) => k.capacity), ...owned]) reached[c] = 1;
  const nodes = [...reached.keys()].filter((p) => reached[p] === 1);
  const into = new Map<number, string[]>(nodes.map((p) => [p, []]));
  const outOf = new Map<number, string[]>(nodes.map((p) => [p, []]));
  const cover = new Map<number, string[]>(distinct.map((s) => [s, []]));
  const whole: string[] = [];
  for (const { from, to, size } of unique) {
    const name = `a${from}_${to}`;
    into.get(to)?.push(name);
    outOf.get(from)?.push(name);
    cover.get(size)?.push(name);
    whole.push(name);
  }
  for (let i = 0; i + 1 < nodes.length; i++) {
    const name = `l${nodes[i]}`;
    outOf.get(nodes[i] ?? 0)?.push(name);
    into.get(nodes[i + 1] ?? 0)?.push(name);
  }
  const costs: string[] = [];
  const bounds: string[] = [];
  const exits: string[] = [];
  for (const [k, kind] of kinds.entries()) {
    outOf.get(kind.capacity)?.push(`k${k}`);
    costs.push(`${kind.cost / unit} k${k}`);
    exits.push(`k${k}`);
  }
  for (const [k, capacity] of owned.entries()) {
    outOf.get(capacity)?.push(`o${k}`);
    bounds.push(`o${k} <= 1`);
    exits.push(`o${k}`);
  }
  const lines = ['Minimize', ` obj: ${costs.join(' + ')}`, 'Subject To'];
  for (const p of nodes) {
    if (p === 0) continue;
    const plus = into.get(p) ?? [];
    const minus = outOf.get(p) ?? [];
    if (plus.length + minus.length > 0)
      lines.push(` n${p}: ${plus.join(' + ')}${minus.map((m) => ` - ${m}`).join('')} = 0`);
  }
  for (const s of distinct)
    lines.push(` d${s}: ${(cover.get(s) ?? []).join(' + ')} >= ${demand.get(s) ?? 0}`);
  // Implied by the flow, but a row of its own lets the solver round it: the bins bought are as long as the pieces.
  const length = sizes.reduce((sum, s) => sum + s, 0);
  const room = [...kinds.map((kind, k) => `${kind.capacity} k${k}`), ...owned.map((c, k) => `${c} o${k}`)];
  lines.push(` room: ${room.join(' + ')} >= ${length}`);
  return [
    ...lines,
    'Bounds',
    ...bounds.map((b) => ` ${b}`),
    'General',
    ` ${[...whole, ...exits].join(' ')}`,
    'End',
  ].join('\n');
}

/** The proven optimum by HiGHS, rounded (it answers 48.99999…), or null when it did not prove one in time. */
export async function optimumByHighs(task: PackingTask, seconds: number): Promise<number | null> {
  // A fresh instance each time: a WASM memory that grew in one solve stays grown.
  const highs = await highsLoader();
  // Costs in units of their common divisor: the objective is whole, so a gap below one is a proof.
  const unit = Math.max(1, gcdOf(task.kinds.map((k) => k.cost)));
  const answer = highs.solve(arcFlow(task, unit), {
    mip_rel_gap: 0,
    mip_abs_gap: 0.99,
    time_limit: seconds,
    output_flag: false,
  });
  return answer.Status === 'Optimal' ? Math.round(answer.ObjectiveValue) * unit : null;
}

import type { Interval } from '../../engine/geometry/interval.ts';
import { intervalUnion } from '../../engine/geometry/interval.ts';
import type { Mm, PlanPoint } from '../../engine/model/units.ts';
import type { ProposalRules, Stroke } from './types.ts';

/** All strokes on one line: `offset` from the origin along the family's normal, `spans` along its direction, sorted. */
export interface Track {
  readonly offset: Mm;
  readonly spans: readonly Interval[];
}

/** Strokes of one direction. A place is `along * dir + offset * normal`; the normal is a quarter turn clockwise on screen. */
export interface Family {
  readonly dir: PlanPoint;
  readonly normal: PlanPoint;
  /** By rising offset. */
  readonly tracks: Track[];
}

const length = (s: Stroke): Mm => Math.hypot(s.b.x - s.a.x, s.b.y - s.a.y);
/** Direction without a sense, 0 to π. */
const heading = (s: Stroke): number => {
  const a = Math.atan2(s.b.y - s.a.y, s.b.x - s.a.x);
  return a < 0 ? a + Math.PI : a >= Math.PI ? a - Math.PI : a;
};

/** Sorts strokes into families of one direction each, and in each into lines. Strokes of no length are passed over. */
export function familiesOf(strokes: readonly Stroke[], rules: ProposalRules): Family[] {
  const turned = strokes
    .filter((s) => length(s) > rules.near)
    .map((stroke) => ({ stroke, angle: heading(stroke) }))
    .sort((a, b) => a.angle - b.angle);
  const groups: { stroke: Stroke; angle: number }[][] = [];
  for (const each of turned) {
    const group = groups.at(-1);
    if (group && each.angle - (group[0] as { angle: number }).angle <= 2 * rules.angle) group.push(each);
    else groups.push([each]);
  }
  // The first and the last group are neighbours across the half turn.
  const [first, last] = [groups[0], groups.at(-1)];
  if (first && last && first !== last) {
    const span = (first.at(-1) as { angle: number }).angle + Math.PI - (last[0] as { angle: number }).angle;
    if (span <= 2 * rules.angle) {
      groups.pop();
      first.unshift(...last.map((l) => ({ stroke: l.stroke, angle: l.angle - Math.PI })));
    }
  }
  return groups.map((g) => familyOf(g, rules));
}

function familyOf(group: readonly { stroke: Stroke; angle: number }[], rules: ProposalRules): Family {
  const weight = group.reduce((sum, g) => sum + length(g.stroke), 0);
  const mean = group.reduce((sum, g) => sum + g.angle * length(g.stroke), 0) / weight;
  // A family that is level or plumb to a hair is just that, so that numbers stay whole.
  const square = Math.round(mean / (Math.PI / 2)) * (Math.PI / 2);
  const angle = Math.abs(mean - square) < rules.angle / 100 ? square : mean;
  const dir = { x: Math.cos(angle), y: Math.sin(angle) };
  const normal = { x: -dir.y, y: dir.x };
  const flat = group
    .map(({ stroke: { a, b } }) => {
      const [from, to] = [a.x * dir.x + a.y * dir.y, b.x * dir.x + b.y * dir.y];
      const offset = ((a.x + b.x) * normal.x + (a.y + b.y) * normal.y) / 2;
      return { offset, span: { lo: Math.min(from, to), hi: Math.max(from, to) } };
    })
    .sort((p, q) => p.offset - q.offset);
  const tracks: { offsets: number[]; weights: number[]; spans: Interval[] }[] = [];
  for (const { offset, span } of flat) {
    const last = tracks.at(-1);
    if (last && offset - (last.offsets[0] as number) <= rules.near) {
      last.offsets.push(offset);
      last.weights.push(span.hi - span.lo);
      last.spans.push(span);
    } else tracks.push({ offsets: [offset], weights: [span.hi - span.lo], spans: [span] });
  }
  return {
    dir,
    normal,
    tracks: tracks.map((t) => {
      const total = t.weights.reduce((a, b) => a + b, 0);
      return {
        offset: t.offsets.reduce((sum, o, i) => sum + o * (t.weights[i] as number), 0) / total,
        spans: intervalUnion(t.spans, rules.near),
      };
    }),
  };
}

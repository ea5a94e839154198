import type { Id, Place } from '../model/document.ts';
import { find } from '../model/tables.ts';
import type { ZoneContext } from '../zones/surfaces.ts';
import { facePlaceAt } from './faceLines.ts';
import type { LegalNet } from './legalNet.ts';
import { pathCount } from './lineNet.ts';
import { distanceTo, pathTo, search, type SearchSpace } from './shortestPath.ts';
import { countCost, type NodeSpot, type RouteFound } from './types.ts';

/** Places nearer than this in every coordinate are one. */
const SAME = 0.01;
const same = (a: number, b: number): boolean => Math.abs(a - b) <= SAME;

function placeOf(ctx: ZoneContext, spot: NodeSpot): Place {
  if (spot.on !== 'face') return { on: spot.on, storey: spot.storey, x: spot.x, y: spot.y };
  const face = ctx.fabrics.get(spot.storey)?.faces.get(spot.face);
  if (face === undefined) throw new Error(`no face ${spot.face}`);
  return facePlaceAt(face, spot.u, spot.z);
}

function samePlace(a: Place, b: Place): boolean {
  if (a.on === 'face' && b.on === 'face')
    return a.wall === b.wall && a.side === b.side && same(a.along, b.along) && same(a.z, b.z);
  if (a.on === 'face' || b.on === 'face' || a.on !== b.on) return false;
  return a.storey === b.storey && same(a.x, b.x) && same(a.y, b.y);
}

/** Does b add nothing between a and c: on one level or plumb line of a wall side, or one straight line of a void? */
function isStraight(a: Place, b: Place, c: Place): boolean {
  if (b.on === 'face') {
    const onWall = (p: Place): p is Place & { on: 'face' } =>
      p.on === 'face' && p.wall === b.wall && p.side === b.side;
    if (onWall(a) && onWall(c)) {
      return (
        (same(a.along, b.along) && same(b.along, c.along)) ||
        (same(a.z, b.z) && same(b.z, c.z) && (b.along - a.along) * (c.along - b.along) >= 0)
      );
    }
    // The top or foot of a wall on the plumb way to a void.
    const [wall, other] = onWall(a) ? [a, c] : onWall(c) ? [c, a] : [null, null];
    return wall !== null && same(wall.along, b.along) && (other.on === 'ceiling' || other.on === 'floor');
  }
  if (a.on !== b.on || c.on !== b.on || b.on === 'free') return false;
  const [p, q, r] = [a, b, c] as { x: number; y: number }[];
  if (p === undefined || q === undefined || r === undefined) return false;
  const cross = (q.x - p.x) * (r.y - q.y) - (q.y - p.y) * (r.x - q.x);
  const dot = (q.x - p.x) * (r.x - q.x) + (q.y - p.y) * (r.y - q.y);
  return dot >= 0 && Math.abs(cross) <= SAME * Math.hypot(r.x - p.x, r.y - p.y);
}

/** The corners of a path between two terminations: no corner that is not a turn, none where the run starts or ends. */
export function cornersOf(ctx: ZoneContext, net: LegalNet, path: readonly number[]): Place[] {
  const spots = path.map((node) => net.spots[node >> 1] as NodeSpot);
  const kept: Place[] = [];
  for (const spot of spots) {
    const place = placeOf(ctx, spot);
    const last = kept[kept.length - 1];
    if (last !== undefined && samePlace(last, place)) continue;
    const before = kept[kept.length - 2];
    if (last !== undefined && before !== undefined && isStraight(before, last, place)) kept.pop();
    kept.push(place);
  }
  return kept.slice(1, -1);
}

/** The way of the last search to a point: null when it cannot be reached. */
export function routeTo(ctx: ZoneContext, net: LegalNet, space: SearchSpace, to: Id): RouteFound | null {
  const goal = net.terminals.get(to);
  const path = goal === undefined ? null : pathTo(space, 2 * goal);
  if (path === null) return null;
  const count = pathCount(net, path);
  return {
    ok: true,
    corners: cornersOf(ctx, net, path),
    count,
    cost: countCost(count, ctx.doc.job.routeCosts),
  };
}

/** Searches from a point to all the others at once. False when the point itself is not on any legal line. */
export function searchFrom(net: LegalNet, space: SearchSpace, from: Id, to: readonly Id[] | null): boolean {
  const source = net.terminals.get(from);
  if (source === undefined) return false;
  const goals = to?.flatMap((id) => {
    const goal = net.terminals.get(id);
    return goal === undefined ? [] : [2 * goal];
  });
  search(net.graph, space, 2 * source, goals ?? null);
  return true;
}

/** Cost of the last search to a point, in points; Infinity when it cannot be reached. */
export function costTo(net: LegalNet, space: SearchSpace, to: Id): number {
  const goal = net.terminals.get(to);
  return goal === undefined ? Infinity : distanceTo(space, 2 * goal);
}

/** Why a point stands on no legal line, in plain words; null when it does. */
export function whyNotOnLines(ctx: ZoneContext, net: LegalNet, id: Id): string | null {
  if (net.terminals.has(id)) return null;
  const point = find(ctx.doc, 'points', id);
  if (point === undefined) return 'There is no such point.';
  const { place } = point;
  if (place.on === 'face') {
    if (!point.visible || point.kind === 'blank-plate')
      return `${point.label} is hidden after fit-out, so its strips are disputed and no legal line reaches it.`;
    return `${point.label} is not within any permitted zone as seen from both sides of its wall, or something stands over it.`;
  }
  if (place.on === 'free') return `${point.label} is neither on a wall nor on a ceiling or floor.`;
  return `${point.label} is on a ${place.on} with no void behind it, or over no room.`;
}

import type { FaceId } from '../fabric/types.ts';
import type { Id, Place, RouteCosts } from '../model/document.ts';
import type { Mm } from '../model/units.ts';

/** Which ways a route may take. Every way may use the walls next to its points to get to a void. */
export type Way = 'ceiling' | 'walls' | 'floor';
export type Ways = Readonly<Record<Way, boolean>>;
export const ALL_WAYS: Ways = { ceiling: true, walls: true, floor: true };

/** What a route is made of, in units of its own: a cost is the sum of count times price. */
export interface RouteCount {
  /** Metres of cable between the two terminations, without tails. */
  readonly metres: number;
  readonly bends: number;
  /** Times it goes between a wall and a void. */
  readonly drops: number;
  /** Holes through joists, studs and plates. */
  readonly timberHoles: number;
  readonly chaseMetres: number;
  readonly throughWalls: number;
  readonly insulationMetres: number;
}

export const NOTHING: RouteCount = {
  metres: 0,
  bends: 0,
  drops: 0,
  timberHoles: 0,
  chaseMetres: 0,
  throughWalls: 0,
  insulationMetres: 0,
};

/** Sum of two counts. */
export function countSum(a: RouteCount, b: RouteCount): RouteCount {
  return {
    metres: a.metres + b.metres,
    bends: a.bends + b.bends,
    drops: a.drops + b.drops,
    timberHoles: a.timberHoles + b.timberHoles,
    chaseMetres: a.chaseMetres + b.chaseMetres,
    throughWalls: a.throughWalls + b.throughWalls,
    insulationMetres: a.insulationMetres + b.insulationMetres,
  };
}

/** A count in the points the person set. */
export function countCost(c: RouteCount, costs: RouteCosts): number {
  return (
    c.metres * costs.metre +
    c.bends * costs.bend +
    c.drops * costs.drop +
    c.timberHoles * costs.timberHole +
    c.chaseMetres * costs.chaseMetre +
    c.throughWalls * costs.throughWall +
    c.insulationMetres * costs.insulationMetre
  );
}

/** Where a node of the graph is: on a face in (u, z), or in a void in plan. */
export type NodeSpot =
  | { readonly on: 'face'; readonly face: FaceId; readonly storey: Id; readonly u: Mm; readonly z: Mm }
  | { readonly on: 'ceiling' | 'floor'; readonly storey: Id; readonly x: Mm; readonly y: Mm };

/** A way found for one run. */
export interface RouteFound {
  readonly ok: true;
  readonly corners: readonly Place[];
  readonly count: RouteCount;
  readonly cost: number;
}

/** No legal way: what stands in it, in plain words. */
export interface RouteBlocked {
  readonly ok: false;
  readonly reason: string;
}
export type Route = RouteFound | RouteBlocked;

/** Distances between n places: row-major n x n, symmetric, not negative; Infinity where there is no way. */
export interface DistanceTable {
  readonly n: number;
  readonly d: Float64Array;
}

/** Which runs of a circuit a suggestion takes the place of: those suggested before, or hand-drawn ones too. */
export type Replaces = 'suggested' | 'drawn';

/** A run as suggested: what a command needs to make it. */
export interface SuggestedRun {
  readonly from: Id;
  readonly to: Id;
  readonly cable: Id;
  readonly corners: readonly Place[];
  readonly count: RouteCount;
  readonly why: string;
}

/** A whole circuit routed, or as much of it as there is a legal way for. */
export interface CircuitPlan {
  readonly circuit: Id;
  readonly runs: readonly SuggestedRun[];
  readonly count: RouteCount;
  readonly cost: number;
  /** Order of the points as the cable meets them (rings and radials). */
  readonly order: readonly Id[];
  /** True when no order is shorter; else the cost no order can be below. */
  readonly exactOrder: boolean;
  readonly orderBound: number;
  readonly orderCost: number;
  /** What could not be routed, in plain words. */
  readonly blocked: readonly string[];
  /** Which of the circuit's runs it takes the place of. */
  readonly replaces: Replaces;
}

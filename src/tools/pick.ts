import { segmentNearest } from '../engine/geometry/segment.ts';
import { polygonWinding } from '../engine/geometry/polygon.ts';
import type { Id } from '../engine/model/document.ts';
import type { Mm, PlanPoint, Px } from '../engine/model/units.ts';
import { boxIndex, boxOf, boxesTouch } from './boxIndex.ts';
import type { BoxIndex } from './boxIndex.ts';
import type { MmBox } from './camera.ts';
import { laneWidth, legInLane } from './planLegs.ts';
import type { PlanLeg } from './planLegs.ts';
import type { PlanShapes, RoomShape } from './planShapes.ts';
import type { Ref } from './types.ts';

/** Pixels per symbol unit: about constant on the screen, smaller when a whole house is in view. */
export function symbolUnit(scale: number): Px {
  return Math.min(1.2, Math.max(0.5, scale * 14));
}
/** Height of a symbol in its own units, from the wall into the room. */
const SYMBOL_UNITS = 17;

type PickShape =
  | { readonly kind: 'spot'; readonly at: PlanPoint }
  /** A symbol that stands out from `at` along `into`, so far on the screen whatever the zoom. */
  | { readonly kind: 'symbol'; readonly at: PlanPoint; readonly into: PlanPoint | null }
  | { readonly kind: 'area'; readonly ring: readonly PlanPoint[] }
  | { readonly kind: 'leg'; readonly leg: PlanLeg };

interface PickItem {
  readonly ref: Ref;
  readonly shape: PickShape;
  /** The lower the more it is meant when several are as near. */
  readonly rank: number;
}

/** What can be picked on a storey, indexed kind by kind: a kind that did not change keeps its index. */
export interface PickScene {
  readonly parts: readonly PickPart[];
}
export interface PickPart {
  readonly items: readonly PickItem[];
  readonly index: BoxIndex;
}

const parts = new WeakMap<readonly unknown[], PickPart>();

/** The pick scene of the shapes. */
export function pickScene(shapes: PlanShapes): PickScene {
  return {
    parts: [
      part(shapes.points, 'points', 0, (p) => ({ kind: 'symbol', at: p.at, into: p.into })),
      part(shapes.rooms, 'roomTags', 1, ({ tag }) => tag && { kind: 'spot', at: { x: tag.x, y: tag.y } }),
      part(shapes.looseTags, 'roomTags', 1, (tag) => ({ kind: 'spot', at: { x: tag.x, y: tag.y } })),
      part(shapes.nodes, 'nodes', 2, (n) => ({ kind: 'spot', at: n.at })),
      part(shapes.legs, 'runs', 3, (leg) => ({ kind: 'leg', leg })),
      part(shapes.openings, 'openings', 4, (o) => ({ kind: 'area', ring: o.quad })),
      part(shapes.walls, 'walls', 5, (w) => ({ kind: 'area', ring: w.quad })),
      part(shapes.things, 'things', 6, (t) => ({ kind: 'area', ring: t.outline })),
    ],
  };
}

type Source = { readonly id: Id } | PlanLeg | RoomShape;

function part<T extends Source>(
  sources: readonly T[],
  table: Ref['table'],
  rank: number,
  shapeOf: (source: T) => PickShape | null,
): PickPart {
  let made = parts.get(sources);
  if (!made) {
    const items = sources.flatMap((source): PickItem[] => {
      const shape = shapeOf(source);
      return shape ? [{ ref: refOf(source, table), rank, shape }] : [];
    });
    made = { items, index: boxIndex(items.map((item) => boxOfShape(item.shape))) };
    parts.set(sources, made);
  }
  return made;
}

function refOf(source: Source, table: Ref['table']): Ref {
  if ('run' in source) return { table, id: source.run, part: `leg:${source.stretch}` };
  return { table, id: 'room' in source ? (source.tag?.id ?? '') : source.id, part: null };
}

function boxOfShape(shape: PickShape): MmBox | null {
  if (shape.kind === 'area') return boxOf(shape.ring);
  if (shape.kind === 'leg') return boxOf([shape.leg.a, shape.leg.b]);
  return boxOf([shape.at]);
}

/** How far, on the screen, what is drawn may lie from its true place: symbols and lanes of a bundle. */
const DRAWN_OFF: Px = 44;

export interface PickOptions {
  /** Screen pixels per mm, and how many pixels off still counts. */
  readonly scale: number;
  readonly tolerance: Px;
  /** Only these tables; all when left out. */
  readonly tables?: readonly Ref['table'][];
}

/**
 * The record under a place of the plan, by exact distance in screen pixels: the nearest within the tolerance, small
 * things before walls and openings; of those about as near the one of the lowest rank. Null when there is none.
 */
export function pickPlan(scene: PickScene, at: PlanPoint, options: PickOptions): Ref | null {
  return pickAll(scene, at, options)[0] ?? null;
}

/** All records within the tolerance, best first. */
export function pickAll(scene: PickScene, at: PlanPoint, options: PickOptions): Ref[] {
  const { scale, tolerance, tables } = options;
  const by = (tolerance + DRAWN_OFF) / scale;
  const area = { minX: at.x - by, minY: at.y - by, maxX: at.x + by, maxY: at.y + by };
  const hits: { ref: Ref; rank: number; away: Px }[] = [];
  for (const { items, index } of scene.parts) {
    for (const id of index.search(area)) {
      const item = items[id] as PickItem;
      if (tables && !tables.includes(item.ref.table)) continue;
      const away = distanceTo(item.shape, at, scale) * scale;
      if (away <= tolerance) hits.push({ ref: item.ref, rank: item.rank, away });
    }
  }
  return hits.sort(byMeaning).map((hit) => hit.ref);
}

/** Distances within this band count as alike, and the rank decides. */
const ALIKE_PX: Px = 3;

/** A small thing on a large one wins although the pointer is inside the large one (at distance 0). */
function byMeaning(a: { rank: number; away: Px }, b: { rank: number; away: Px }): number {
  const large = (rank: number) => (rank >= 4 ? 1 : 0);
  const band = (away: Px) => Math.floor(away / ALIKE_PX);
  return large(a.rank) - large(b.rank) || band(a.away) - band(b.away) || a.rank - b.rank || a.away - b.away;
}

/** Distance of a place to what is drawn, mm; 0 inside areas. */
function distanceTo(shape: PickShape, at: PlanPoint, scale: number): Mm {
  if (shape.kind === 'spot') return Math.hypot(at.x - shape.at.x, at.y - shape.at.y);
  if (shape.kind === 'symbol') {
    const reach = (SYMBOL_UNITS * symbolUnit(scale)) / scale;
    const { into } = shape;
    if (into === null) return Math.max(0, Math.hypot(at.x - shape.at.x, at.y - shape.at.y) - reach / 3);
    const far = { x: shape.at.x + into.x * reach, y: shape.at.y + into.y * reach };
    return Math.max(0, segmentNearest(at, shape.at, far).distance - reach / 5);
  }
  if (shape.kind === 'leg') {
    const [a, b] = legInLane(shape.leg, laneWidth(scale));
    return segmentNearest(at, a, b).distance;
  }
  if (polygonWinding(at, shape.ring) !== 0) return 0;
  return Math.min(
    ...shape.ring.map(
      (a, i) => segmentNearest(at, a, shape.ring[(i + 1) % shape.ring.length] as PlanPoint).distance,
    ),
  );
}

/**
 * The records a marquee takes, in drawing order, each once: what lies wholly inside it, or with `touching` all it meets.
 * Runs count whole: all legs inside, or any leg touched.
 */
export function pickArea(scene: PickScene, area: MmBox, touching: boolean): Ref[] {
  const inside = (box: MmBox) =>
    box.minX >= area.minX && box.maxX <= area.maxX && box.minY >= area.minY && box.maxY <= area.maxY;
  const taken = new Map<string, Ref>();
  const refused = new Set<string>();
  for (const { items, index } of scene.parts) {
    const found = new Set(index.search(area));
    items.forEach((item, i) => {
      const key = `${item.ref.table}:${item.ref.id}`;
      const box = boxOfShape(item.shape);
      if (box === null) return;
      const takes = found.has(i) && (touching ? touches(item.shape, area) : inside(box));
      if (takes) taken.set(key, { ...item.ref, part: null });
      else if (!touching) refused.add(key);
    });
  }
  return [...taken].flatMap(([key, ref]) => (refused.has(key) ? [] : [ref]));
}

function touches(shape: PickShape, area: MmBox): boolean {
  const edges: readonly (readonly [PlanPoint, PlanPoint])[] =
    shape.kind === 'area'
      ? shape.ring.map((a, i) => [a, shape.ring[(i + 1) % shape.ring.length] as PlanPoint] as const)
      : shape.kind === 'leg'
        ? [[shape.leg.a, shape.leg.b]]
        : [[shape.at, shape.at]];
  if (edges.some(([a, b]) => segmentMeetsBox(a, b, area))) return true;
  const middle = { x: (area.minX + area.maxX) / 2, y: (area.minY + area.maxY) / 2 };
  return shape.kind === 'area' && polygonWinding(middle, shape.ring) !== 0;
}

/** Exact: clips the segment to the box (Liang and Barsky's method). */
export function segmentMeetsBox(a: PlanPoint, b: PlanPoint, box: MmBox): boolean {
  const own = boxOf([a, b]);
  if (own === null || !boxesTouch(own, box)) return false;
  let t0 = 0;
  let t1 = 1;
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  for (const [p, q] of [
    [-dx, a.x - box.minX],
    [dx, box.maxX - a.x],
    [-dy, a.y - box.minY],
    [dy, box.maxY - a.y],
  ] as const) {
    if (p === 0) {
      if (q < 0) return false;
    } else if (p < 0) t0 = Math.max(t0, q / p);
    else t1 = Math.min(t1, q / p);
  }
  return t0 <= t1;
}

import type { Fabric, FaceId } from '../../engine/fabric/types.ts';
import type { Material } from '../../engine/model/document.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import { boxIndex, boxOf, boxesTouch } from '../../tools/boxIndex.ts';
import type { BoxIndex } from '../../tools/boxIndex.ts';
import type { OpeningShape, PlanShapes, WallShape } from '../../tools/planShapes.ts';
import { inMm } from '../shared/paint.ts';
import type { Frame } from '../shared/stage.ts';

type Ctx = CanvasRenderingContext2D;

/** What the painter keeps while walls and fabric stay as they are. */
interface WallPaint {
  readonly solid: Path2D;
  readonly index: BoxIndex;
}
const kept = new WeakMap<PlanShapes['walls'], WallPaint>();

function wallPaint(shapes: PlanShapes): WallPaint {
  let paint = kept.get(shapes.walls);
  if (!paint) {
    paint = { solid: solidPath(shapes), index: boxIndex(shapes.walls.map((w) => boxOf(w.quad))) };
    kept.set(shapes.walls, paint);
  }
  return paint;
}

/**
 * All loops of faces as one path: each loop parts wall from no wall, so filled even-odd it is exactly the walls, with
 * their mitres. Without a fabric (not computed yet) the walls as plain rectangles.
 */
function solidPath(shapes: PlanShapes): Path2D {
  const path = new Path2D();
  const ring = (places: readonly PlanPoint[]) => {
    places.forEach((p, i) => (i === 0 ? path.moveTo(p.x, p.y) : path.lineTo(p.x, p.y)));
    path.closePath();
  };
  const { fabric } = shapes;
  const loops = fabric ? faceLoops(fabric) : [];
  if (fabric && loops.length > 0) for (const loop of loops) ring(loop);
  else for (const wall of shapes.walls) ring(wall.quad);
  return path;
}

/** Every loop of faces of a storey as corners. */
export function faceLoops(fabric: Fabric): PlanPoint[][] {
  const corners = (ids: readonly FaceId[]) =>
    ids.flatMap((id) => {
      const face = fabric.faces.get(id);
      return face ? [face.a, face.b] : [];
    });
  return [
    ...fabric.outside.map(corners),
    ...[...fabric.rooms.values()].flatMap((room) => [corners(room.faces), ...room.islands.map(corners)]),
  ].filter((loop) => loop.length > 2);
}

/** Layers are told apart once the thinnest usual wall is about so many pixels thick. */
const LAYERS_FROM_PX = 22;
const LAYERS_AT_MOST = 150;

/** Walls in poché, with their layers when zoomed in, and their openings. */
export function paintWalls(frame: Frame, shapes: PlanShapes): void {
  if (shapes.walls.length === 0) return;
  const paint = wallPaint(shapes);
  const inView = paint.index.search(frame.view).map((i) => shapes.walls[i] as WallShape);
  const { theme, camera } = frame;
  const layered = 100 * camera.scale >= LAYERS_FROM_PX && inView.length <= LAYERS_AT_MOST;
  inMm(frame, (ctx, px) => {
    ctx.fillStyle = theme.wall;
    ctx.globalAlpha = layered ? 0.12 : 0.82;
    ctx.fill(paint.solid, 'evenodd');
    ctx.globalAlpha = 1;
    if (layered) for (const wall of inView) paintLayers(ctx, wall, px, theme.wall);
    ctx.strokeStyle = theme.wall;
    ctx.lineWidth = 1.4 * px;
    ctx.lineJoin = 'miter';
    ctx.stroke(paint.solid);
    const openings = shapes.openings.filter((o) => {
      const box = boxOf(o.quad, o.opening.width);
      return box !== null && boxesTouch(box, frame.view);
    });
    for (const opening of openings) paintOpening(ctx, opening, px, theme.wall);
  });
}

/** The strip of one layer: between two shares of the thickness, with the wall's own mitres at its ends. */
function strip(wall: WallShape, from: number, to: number): PlanPoint[] {
  const [l0, l1, r1, r0] = wall.quad;
  const between = (a: PlanPoint, b: PlanPoint, t: number) => ({
    x: a.x + (b.x - a.x) * t,
    y: a.y + (b.y - a.y) * t,
  });
  return [between(l0, r0, from), between(l1, r1, from), between(l1, r1, to), between(l0, r0, to)];
}

function paintLayers(ctx: Ctx, wall: WallShape, px: number, colour: string): void {
  const { layers, thickness } = wall.frame;
  let done = 0;
  for (const layer of layers) {
    const quad = strip(wall, done / thickness, (done + layer.thickness) / thickness);
    done += layer.thickness;
    ctx.save();
    trace(ctx, quad);
    ctx.strokeStyle = colour;
    ctx.lineWidth = 0.6 * px;
    ctx.stroke();
    ctx.clip();
    hatch(ctx, wall, layer.material, layer.insulated, layer.thickness, quad, px, colour);
    ctx.restore();
  }
}

/**
 * A pattern per kind of layer: masonry diagonal (brick closer), insulation wavy, boards and plaster solid grey, frames
 * plain, voids empty. Common drawing-office practice, no source; the layer's name is in the list of build-ups.
 */
function hatch(
  ctx: Ctx,
  wall: WallShape,
  material: Material,
  insulated: boolean,
  thickness: number,
  quad: readonly PlanPoint[],
  px: number,
  colour: string,
): void {
  ctx.strokeStyle = colour;
  ctx.fillStyle = colour;
  ctx.lineWidth = 0.7 * px;
  if (
    material === 'plaster' ||
    material === 'plasterboard' ||
    material === 'sheathing' ||
    material === 'cladding'
  ) {
    ctx.globalAlpha = material === 'cladding' ? 0.22 : 0.4;
    trace(ctx, quad);
    ctx.fill();
    ctx.globalAlpha = 1;
    return;
  }
  const { from, dir, normal } = wall.frame;
  const middle = quad.reduce(
    (m, p) => m + ((p.x - from.x) * normal.x + (p.y - from.y) * normal.y) / quad.length,
    0,
  );
  const along = quad.map((p) => (p.x - from.x) * dir.x + (p.y - from.y) * dir.y);
  const start = Math.min(...along);
  const end = Math.max(...along);
  const at = (s: number, off: number): [number, number] => [
    from.x + dir.x * s + normal.x * (middle + off),
    from.y + dir.y * s + normal.y * (middle + off),
  ];
  const half = thickness / 2;
  ctx.beginPath();
  if (material === 'insulation' || material === 'insulated-board' || insulated) {
    const wave = Math.max(thickness * 0.5, 6 * px);
    ctx.moveTo(...at(start, -half));
    for (let s = start, up = true; s < end; s += wave, up = !up) {
      const [cx, cy] = at(s + wave / 2, up ? half * 1.5 : -half * 1.5);
      ctx.quadraticCurveTo(cx, cy, ...at(s + wave, up ? half * 0.2 : -half * 0.2));
    }
  } else if (material === 'block' || material === 'brick') {
    const step = Math.max(material === 'brick' ? 35 : 70, 5 * px);
    for (let s = Math.floor((start - thickness) / step) * step; s < end + thickness; s += step) {
      ctx.moveTo(...at(s, -half));
      ctx.lineTo(...at(s + thickness, half));
    }
  } else if (material === 'metal-stud' || material === 'timber-stud') {
    // A faint line along the middle says "frame": where the studs stand is not in the plan and is not suggested.
    ctx.setLineDash(material === 'metal-stud' ? [10 * px, 3 * px, 2 * px, 3 * px] : [12 * px, 4 * px]);
    ctx.moveTo(...at(start, 0));
    ctx.lineTo(...at(end, 0));
  }
  ctx.globalAlpha = 0.6;
  ctx.stroke();
  ctx.setLineDash([]);
  ctx.globalAlpha = 1;
}

function trace(ctx: Ctx, ring: readonly PlanPoint[]): void {
  ctx.beginPath();
  ring.forEach((p, i) => (i === 0 ? ctx.moveTo(p.x, p.y) : ctx.lineTo(p.x, p.y)));
  ctx.closePath();
}

/** A door wider than this is drawn as a pair of leaves, mm: common practice, no source. */
const ONE_LEAF = 1200;

/** A leaf standing open from its hinge, and the arc it swings through to `shut` (unit vector along the wall). */
function paintLeaf(
  ctx: Ctx,
  hinge: PlanPoint,
  out: PlanPoint,
  shut: PlanPoint,
  width: number,
  px: number,
): void {
  ctx.lineWidth = 1.6 * px;
  ctx.beginPath();
  ctx.moveTo(hinge.x, hinge.y);
  ctx.lineTo(hinge.x + out.x * width, hinge.y + out.y * width);
  ctx.stroke();
  ctx.lineWidth = 0.8 * px;
  ctx.globalAlpha = 0.7;
  ctx.beginPath();
  const open = Math.atan2(out.y, out.x);
  const closed = Math.atan2(shut.y, shut.x);
  const turn = Math.atan2(Math.sin(closed - open), Math.cos(closed - open));
  ctx.arc(hinge.x, hinge.y, width, open, closed, turn < 0);
  ctx.stroke();
  ctx.globalAlpha = 1;
}

/** The opening taken out of the poché, with its jambs; a door's leaf and swing, a window's two glass lines. */
function paintOpening(ctx: Ctx, shape: OpeningShape, px: number, colour: string): void {
  const [l0, l1, r1, r0] = shape.quad;
  const { dir, half } = shape.frame;
  // Grown by a pixel across the wall only, so that no sliver of the surface line is left.
  const grow = (p: PlanPoint, way: number) => ({
    x: p.x + shape.frame.normal.x * way * px * 1.2,
    y: p.y + shape.frame.normal.y * way * px * 1.2,
  });
  ctx.globalCompositeOperation = 'destination-out';
  ctx.fillStyle = '#000';
  trace(ctx, [grow(l0, 1), grow(l1, 1), grow(r1, -1), grow(r0, -1)]);
  ctx.fill();
  ctx.globalCompositeOperation = 'source-over';
  ctx.strokeStyle = colour;
  ctx.lineWidth = 1.4 * px;
  ctx.beginPath();
  ctx.moveTo(l0.x, l0.y);
  ctx.lineTo(r0.x, r0.y);
  ctx.moveTo(l1.x, l1.y);
  ctx.lineTo(r1.x, r1.y);
  ctx.stroke();
  const { kind, width } = shape.opening;
  if (kind === 'window') {
    ctx.lineWidth = px;
    ctx.beginPath();
    for (const t of [0, 0.42, 0.58, 1]) {
      ctx.moveTo(l0.x + (r0.x - l0.x) * t, l0.y + (r0.y - l0.y) * t);
      ctx.lineTo(l1.x + (r1.x - l1.x) * t, l1.y + (r1.y - l1.y) * t);
    }
    ctx.stroke();
  } else if (kind === 'door') {
    const out = shape.swing;
    const jamb = (a: PlanPoint, b: PlanPoint): PlanPoint => ({
      x: (a.x + b.x) / 2 + out.x * half,
      y: (a.y + b.y) / 2 + out.y * half,
    });
    if (width > ONE_LEAF) {
      paintLeaf(ctx, jamb(l0, r0), out, dir, width / 2, px);
      paintLeaf(ctx, jamb(l1, r1), out, { x: -dir.x, y: -dir.y }, width / 2, px);
    } else paintLeaf(ctx, jamb(l0, r0), out, dir, width, px);
  } else {
    ctx.lineWidth = 0.8 * px;
    ctx.setLineDash([5 * px, 4 * px]);
    ctx.beginPath();
    for (const [a, b] of [
      [l0, l1],
      [r0, r1],
    ] as const) {
      ctx.moveTo(a.x, a.y);
      ctx.lineTo(b.x, b.y);
    }
    ctx.stroke();
    ctx.setLineDash([]);
  }
}

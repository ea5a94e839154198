import type { FacePoint, Mm, PlanPoint, Px, ScreenPoint } from '../engine/model/units.ts';

/**
 * Where the canvas looks: px = x * scale + left, py = y * scale + top. There is no rotation. The y of a face is -z,
 * so one camera serves the plan (mm, y down) and the band of faces (mm, z up).
 * This file is the only place where millimetres become pixels and back.
 */
export interface Camera {
  /** Screen (CSS) pixels per millimetre, above 0. */
  readonly scale: number;
  /** Where the origin of the space lands on the canvas. */
  readonly left: Px;
  readonly top: Px;
}

/** An axis-parallel box in mm of the camera's space (for faces y is -z). */
export interface MmBox {
  readonly minX: Mm;
  readonly minY: Mm;
  readonly maxX: Mm;
  readonly maxY: Mm;
}

export interface ScreenSize {
  readonly width: Px;
  readonly height: Px;
}

/** From a whole estate on the screen to about four pixels per millimetre. */
export const SCALE_MIN = 0.002;
export const SCALE_MAX = 4;

/** A camera of the given scale with the origin at the canvas's top left. */
export function cameraAt(scale: number): Camera {
  return { scale: clampScale(scale), left: 0, top: 0 };
}

export function planToScreen(camera: Camera, at: PlanPoint): ScreenPoint {
  return { px: at.x * camera.scale + camera.left, py: at.y * camera.scale + camera.top };
}

export function screenToPlan(camera: Camera, at: ScreenPoint): PlanPoint {
  return { x: (at.px - camera.left) / camera.scale, y: (at.py - camera.top) / camera.scale };
}

/** `start`: mm from the camera's origin to the left-hand end (u = 0) of this face where faces lie side by side. */
export function faceToScreen(camera: Camera, at: FacePoint, start: Mm = 0): ScreenPoint {
  return { px: (start + at.u) * camera.scale + camera.left, py: -at.z * camera.scale + camera.top };
}

export function screenToFace(camera: Camera, at: ScreenPoint, start: Mm = 0): FacePoint {
  return { u: (at.px - camera.left) / camera.scale - start, z: (camera.top - at.py) / camera.scale };
}

/** A length in mm as pixels, and back. */
export function mmToPx(camera: Camera, length: Mm): Px {
  return length * camera.scale;
}
export function pxToMm(camera: Camera, length: Px): Mm {
  return length / camera.scale;
}

/** Moves the picture by screen pixels. */
export function pan(camera: Camera, dx: Px, dy: Px): Camera {
  return { ...camera, left: camera.left + dx, top: camera.top + dy };
}

/** Zooms by a factor with the place under `about` standing still. Stops at SCALE_MIN and SCALE_MAX. */
export function zoomAbout(camera: Camera, about: ScreenPoint, factor: number): Camera {
  const scale = clampScale(camera.scale * factor);
  const by = scale / camera.scale;
  return {
    scale,
    left: about.px - (about.px - camera.left) * by,
    top: about.py - (about.py - camera.top) * by,
  };
}

/** Two fingers: the places under both move with them (pinch and pan at once, no turning). */
export function pinch(
  camera: Camera,
  before: readonly [ScreenPoint, ScreenPoint],
  after: readonly [ScreenPoint, ScreenPoint],
): Camera {
  const apart = (p: readonly [ScreenPoint, ScreenPoint]) => Math.hypot(p[1].px - p[0].px, p[1].py - p[0].py);
  const middle = (p: readonly [ScreenPoint, ScreenPoint]): ScreenPoint => ({
    px: (p[0].px + p[1].px) / 2,
    py: (p[0].py + p[1].py) / 2,
  });
  const from = middle(before);
  const to = middle(after);
  const factor = apart(before) > 1 && apart(after) > 1 ? apart(after) / apart(before) : 1;
  return zoomAbout(pan(camera, to.px - from.px, to.py - from.py), to, factor);
}

/** The camera that shows the whole box in the middle of the canvas with `margin` pixels free all round. */
export function fit(box: MmBox, size: ScreenSize, margin: Px = 24): Camera {
  const width = Math.max(1, box.maxX - box.minX);
  const height = Math.max(1, box.maxY - box.minY);
  const scale = clampScale(
    Math.min(Math.max(1, size.width - 2 * margin) / width, Math.max(1, size.height - 2 * margin) / height),
  );
  return {
    scale,
    left: size.width / 2 - ((box.minX + box.maxX) / 2) * scale,
    top: size.height / 2 - ((box.minY + box.maxY) / 2) * scale,
  };
}

/** The box of the space that the canvas shows, in mm, with `margin` pixels more all round. */
export function visibleBox(camera: Camera, size: ScreenSize, margin: Px = 0): MmBox {
  const a = screenToPlan(camera, { px: -margin, py: -margin });
  const b = screenToPlan(camera, { px: size.width + margin, py: size.height + margin });
  return { minX: a.x, minY: a.y, maxX: b.x, maxY: b.y };
}

function clampScale(scale: number): number {
  if (!(scale > 0)) throw new Error(`A scale must be above 0, not ${scale}`);
  return Math.min(SCALE_MAX, Math.max(SCALE_MIN, scale));
}

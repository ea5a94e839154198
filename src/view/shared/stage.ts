import type { Context } from 'konva/lib/Context.js';
import type { Layer } from 'konva/lib/Layer.js';
import type { Stage } from 'konva/lib/Stage.js';
import { cameraAt, visibleBox } from '../../tools/camera.ts';
import type { Camera, MmBox, ScreenSize } from '../../tools/camera.ts';
import type { Px } from '../../engine/model/units.ts';
import { readTheme, watchTheme } from './theme.ts';
import type { Theme } from './theme.ts';

export const LAYERS = ['under', 'document', 'derived', 'overlay'] as const;
export type LayerName = (typeof LAYERS)[number];

/** All that a painter may look at. `ctx` is in CSS pixels; `inMm` turns it to millimetres. */
export interface Frame {
  readonly ctx: CanvasRenderingContext2D;
  readonly camera: Camera;
  readonly size: ScreenSize;
  readonly theme: Theme;
  /** What the canvas shows, in mm, a little more all round. */
  readonly view: MmBox;
}
export type Painter = (frame: Frame) => void;

/** Four canvases on top of each other, one camera, one painter each; redrawn at most once per animation frame. */
export interface CanvasStage {
  camera(): Camera;
  setCamera(camera: Camera): void;
  /** Hears every change of camera or size. */
  onView(listener: () => void): () => void;
  size(): ScreenSize;
  theme(): Theme;
  setPainter(layer: LayerName, painter: Painter): void;
  /** Without names: all layers. */
  redraw(...layers: LayerName[]): void;
  /** CSS opacity of a layer's canvas: dims a picture without a translucent layer. */
  fade(layer: LayerName, opacity: number): void;
  /** Paints what is due now instead of at the next frame (printing, measuring). */
  flush(): void;
  dispose(): void;
}

/** How much more than the canvas counts as in view, so that thick strokes and labels do not pop at the edge. */
const VIEW_MARGIN: Px = 40;

/** What the one shape of each layer does when Konva draws it: it asks whoever paints that layer now. */
export interface Brush {
  readonly scenes: Readonly<Record<LayerName, (context: Context) => void>>;
  paint: (layer: LayerName, ctx: CanvasRenderingContext2D) => void;
}

/** A brush that draws nothing until a stage takes it. */
export function createBrush(): Brush {
  const scene = (name: LayerName) => (context: Context) => brush.paint(name, context._context);
  const brush: Brush = {
    scenes: {
      under: scene('under'),
      document: scene('document'),
      derived: scene('derived'),
      overlay: scene('overlay'),
    },
    paint: () => undefined,
  };
  return brush;
}

/**
 * Works the mounted stage of a container, whose size it follows: the camera and the painters are kept here, outside
 * of React, which never hears of a pointer or a frame.
 */
export function createStage(container: HTMLDivElement, stage: Stage, brush: Brush): CanvasStage {
  let camera = cameraAt(0.1);
  let theme = readTheme(container);
  let size: ScreenSize = { width: container.clientWidth, height: container.clientHeight };
  let ratio = window.devicePixelRatio || 1;
  const listeners = new Set<() => void>();
  const painters = new Map<LayerName, Painter>();
  const mounted: readonly Layer[] = stage.getLayers();
  const layers = new Map(LAYERS.map((name, at) => [name, mounted[at] as Layer] as const));
  brush.paint = (name, ctx) => {
    ctx.save();
    painters.get(name)?.({ ctx, camera, size, theme, view: visibleBox(camera, size, VIEW_MARGIN) });
    ctx.restore();
  };
  stage.size(size);

  const redraw = (names: readonly LayerName[]) => names.forEach((name) => layers.get(name)?.batchDraw());
  const tell = () => {
    redraw(LAYERS);
    for (const listener of [...listeners]) listener();
  };
  const resize = () => {
    const next = { width: container.clientWidth, height: container.clientHeight };
    const nextRatio = window.devicePixelRatio || 1;
    if (next.width === size.width && next.height === size.height && nextRatio === ratio) return;
    size = next;
    stage.size(next);
    if (nextRatio !== ratio) {
      ratio = nextRatio;
      for (const layer of layers.values()) layer.getCanvas().setPixelRatio(ratio);
    }
    // A canvas that changed size is blank until it is drawn: drawing at once avoids a flash.
    for (const layer of layers.values()) layer.draw();
    tell();
  };
  const observer = new ResizeObserver(resize);
  observer.observe(container);
  window.addEventListener('resize', resize);
  const unwatch = watchTheme(() => {
    theme = readTheme(container);
    redraw(LAYERS);
  });

  return {
    camera: () => camera,
    setCamera(next) {
      camera = next;
      tell();
    },
    onView(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    size: () => size,
    theme: () => theme,
    setPainter(name, painter) {
      painters.set(name, painter);
      redraw([name]);
    },
    redraw: (...names) => redraw(names.length === 0 ? LAYERS : names),
    fade(name, opacity) {
      const canvas = layers.get(name)?.getNativeCanvasElement();
      if (canvas) canvas.style.opacity = String(opacity);
    },
    flush: () => layers.forEach((layer) => layer.draw()),
    dispose() {
      observer.disconnect();
      window.removeEventListener('resize', resize);
      unwatch();
      listeners.clear();
      brush.paint = () => undefined;
    },
  };
}

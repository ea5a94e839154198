import { planToTracing } from '../../engine/geometry/tracing.ts';
import type { SourceBox, StoreyTracing, Tracing, TracingSource } from '../../engine/model/tracing.ts';
import type { Mm } from '../../engine/model/units.ts';
import type { App } from '../../tools/app.ts';
import type { Frame } from '../shared/stage.ts';
import { inMm } from '../shared/paint.ts';
import { strokeLines } from './drawnLines.ts';

type Picture = ImageBitmap | HTMLImageElement;
type Step = Picture | HTMLCanvasElement;

/**
 * Halved copies of a picture, made when first needed: drawing twelve megapixels into a small canvas in every frame
 * of a pan is slow without a graphics card, and sampling it so coarsely makes thin lines vanish.
 */
const copies = new WeakMap<Picture, Step[]>();

function copyFor(picture: Picture, scale: number): Step {
  let steps = copies.get(picture);
  if (!steps) {
    steps = [picture];
    copies.set(picture, steps);
  }
  let level = 0;
  while (scale * 2 ** (level + 1) <= 1 && level < 6) {
    level++;
    if (steps[level]) continue;
    const from = steps[level - 1] as Step;
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(from.width / 2));
    canvas.height = Math.max(1, Math.round(from.height / 2));
    const ctx = canvas.getContext('2d');
    if (!ctx) return from;
    ctx.imageSmoothingQuality = 'high';
    ctx.drawImage(from, 0, 0, canvas.width, canvas.height);
    steps[level] = canvas;
  }
  return steps[level] as Step;
}

/** The opacity the canvas itself is to have: that of the most opaque picture shown. */
export function tracingOpacity(tracings: readonly Tracing[]): number {
  return tracings.reduce((most, u) => (u.visible ? Math.max(most, u.opacity) : most), 0) || 1;
}

type Sources = Pick<App, 'assets' | 'drawings'>;

/** Draws the tracings of a storey. What is not ready yet shows as its outline. */
export function paintTracings(frame: Frame, tracings: readonly StoreyTracing[], sources: Sources): void {
  const most = tracingOpacity(tracings);
  for (const tracing of tracings) {
    if (!tracing.visible) continue;
    const { lies, source, scale } = tracing;
    inMm(frame, (ctx, px) => {
      ctx.translate(lies.x, lies.y);
      ctx.rotate(lies.rotation);
      ctx.globalAlpha = tracing.opacity / most;
      const width = source.width * scale.mmPerUnit;
      const height = source.height * scale.mmPerUnit;
      const screenScale = scale.mmPerUnit * frame.camera.scale * (window.devicePixelRatio || 1);
      const inSight = seenOf(frame, tracing);
      const extent = {
        width,
        height,
        mmPerUnit: scale.mmPerUnit,
        screenScale,
        inSight,
        ink: frame.theme.ink,
      };
      if (paintSource(ctx, source, sources, extent)) return;
      ctx.globalAlpha = 1;
      ctx.strokeStyle = frame.theme.muted;
      ctx.lineWidth = px;
      ctx.setLineDash([6 * px, 4 * px]);
      ctx.strokeRect(0, 0, width, height);
    });
  }
}

interface Extent {
  readonly width: Mm;
  readonly height: Mm;
  /** Screen pixels of one unit of the source. */
  readonly screenScale: number;
  readonly mmPerUnit: number;
  /** The part of the source that is in sight, in its units; nothing is in sight where it is turned inside out. */
  readonly inSight: SourceBox;
  /** Colour of lines. */
  readonly ink: string;
}

/** What of a tracing the canvas shows, in units of its source, cut off at its edges. */
function seenOf({ view }: Frame, tracing: StoreyTracing): SourceBox {
  const { width, height } = tracing.source;
  const corners = [
    { x: view.minX, y: view.minY },
    { x: view.maxX, y: view.minY },
    { x: view.maxX, y: view.maxY },
    { x: view.minX, y: view.maxY },
  ].map((corner) => planToTracing(tracing, corner));
  const [xs, ys] = [corners.map((c) => c.x), corners.map((c) => c.y)];
  return {
    x0: Math.max(0, Math.min(...xs)),
    y0: Math.max(0, Math.min(...ys)),
    x1: Math.min(width, Math.max(...xs)),
    y1: Math.min(height, Math.max(...ys)),
  };
}

/** Draws what a tracing shows into its rectangle; false while there is nothing to draw yet. */
function paintSource(
  ctx: CanvasRenderingContext2D,
  source: TracingSource,
  { assets, drawings }: Sources,
  extent: Extent,
): boolean {
  const { width, height, mmPerUnit, screenScale, inSight } = extent;
  switch (source.kind) {
    case 'picture': {
      const picture = assets.shown(source);
      if (!picture) return false;
      ctx.imageSmoothingQuality = 'medium';
      ctx.drawImage(copyFor(picture, screenScale), 0, 0, width, height);
      return true;
    }
    case 'page': {
      const tiles = drawings.tiles(source, inSight, screenScale);
      ctx.imageSmoothingQuality = 'medium';
      for (const { box, bitmap } of tiles) {
        const [x, y] = [box.x0 * mmPerUnit, box.y0 * mmPerUnit];
        ctx.drawImage(bitmap, x, y, (box.x1 - box.x0) * mmPerUnit, (box.y1 - box.y0) * mmPerUnit);
      }
      // Read by and by, so that they are there when the first wall is drawn.
      if (tiles.length > 0) drawings.lines(source);
      return tiles.length > 0;
    }
    case 'lines': {
      const lines = drawings.lines(source);
      if (!lines) return false;
      strokeLines(ctx, lines, extent);
      return true;
    }
  }
}

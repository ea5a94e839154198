import type { StoreyTracing, Tracing, TracingSource } from '../../engine/model/tracing.ts';
import type { Mm } from '../../engine/model/units.ts';
import type { AssetSource } from '../../tools/app.ts';
import type { Frame } from '../shared/stage.ts';
import { inMm } from '../shared/paint.ts';

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

/** Draws the tracings of a storey. What is not ready yet shows as its outline. */
export function paintTracings(frame: Frame, tracings: readonly StoreyTracing[], assets: AssetSource): void {
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
      if (paintSource(ctx, source, assets, { width, height, screenScale })) return;
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
}

/** Draws what a tracing shows into its rectangle; false while there is nothing to draw yet. */
function paintSource(
  ctx: CanvasRenderingContext2D,
  source: TracingSource,
  assets: AssetSource,
  { width, height, screenScale }: Extent,
): boolean {
  switch (source.kind) {
    case 'picture': {
      const picture = source.straighten === null ? assets.picture(source.asset) : null;
      if (!picture) return false;
      ctx.imageSmoothingQuality = 'medium';
      ctx.drawImage(copyFor(picture, screenScale), 0, 0, width, height);
      return true;
    }
    case 'page':
    case 'lines':
      return false;
  }
}

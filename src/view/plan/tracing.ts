import type { Tracing } from '../../engine/model/document.ts';
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

/** Draws the pictures of a storey. A picture that is not ready yet shows as its outline. */
export function paintTracings(frame: Frame, tracings: readonly Tracing[], assets: AssetSource): void {
  const most = tracingOpacity(tracings);
  for (const tracing of tracings) {
    if (!tracing.visible) continue;
    const picture = assets.picture(tracing.asset);
    inMm(frame, (ctx, px) => {
      ctx.translate(tracing.x, tracing.y);
      ctx.rotate(tracing.rotation);
      const width = tracing.width * tracing.mmPerPixel;
      const height = tracing.height * tracing.mmPerPixel;
      if (picture) {
        ctx.globalAlpha = tracing.opacity / most;
        ctx.imageSmoothingQuality = 'medium';
        const screenScale = tracing.mmPerPixel * frame.camera.scale * (window.devicePixelRatio || 1);
        ctx.drawImage(copyFor(picture, screenScale), 0, 0, width, height);
        return;
      }
      ctx.strokeStyle = frame.theme.muted;
      ctx.lineWidth = px;
      ctx.setLineDash([6 * px, 4 * px]);
      ctx.strokeRect(0, 0, width, height);
    });
  }
}

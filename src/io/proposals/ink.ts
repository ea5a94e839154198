import type { Px, Radians } from '../../engine/model/units.ts';

/** A picture in shades of grey, row by row; 0 is black. */
export interface Grey {
  readonly width: Px;
  readonly height: Px;
  readonly shades: Uint8Array;
}

/** 1 where there is ink. */
export interface Ink {
  readonly width: Px;
  readonly height: Px;
  readonly dark: Uint8Array;
}

/** Grey of RGBA bytes by the weights of ITU-R BT.601; what is transparent is paper. */
export function greyOf(rgba: Uint8ClampedArray | Uint8Array, width: Px, height: Px): Grey {
  const shades = new Uint8Array(width * height);
  for (let i = 0; i < shades.length; i++) {
    const [r, g, b] = [rgba[4 * i] as number, rgba[4 * i + 1] as number, rgba[4 * i + 2] as number];
    const alpha = (rgba[4 * i + 3] as number) / 255;
    shades[i] = alpha * (0.299 * r + 0.587 * g + 0.114 * b) + 255 * (1 - alpha);
  }
  return { width, height, shades };
}

/** A spot is ink where it is this much darker than its neighbourhood's mean. Own choice. */
const DARKER = 0.8;

/**
 * Ink by comparing each spot with the mean of a square around it, `reach` px each way, from a table of sums: shadows and
 * yellowed paper fall out. The square must be much wider than any wall is thick.
 */
export function inkOf({ width, height, shades }: Grey, reach: Px): Ink {
  const sums = new Float64Array((width + 1) * (height + 1));
  for (let y = 0; y < height; y++) {
    let row = 0;
    for (let x = 0; x < width; x++) {
      row += shades[y * width + x] as number;
      sums[(y + 1) * (width + 1) + x + 1] = (sums[y * (width + 1) + x + 1] as number) + row;
    }
  }
  const dark = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    const [top, bottom] = [Math.max(0, y - reach), Math.min(height, y + reach + 1)];
    for (let x = 0; x < width; x++) {
      const [left, right] = [Math.max(0, x - reach), Math.min(width, x + reach + 1)];
      const sum =
        (sums[bottom * (width + 1) + right] as number) -
        (sums[top * (width + 1) + right] as number) -
        (sums[bottom * (width + 1) + left] as number) +
        (sums[top * (width + 1) + left] as number);
      const mean = sum / ((bottom - top) * (right - left));
      if ((shades[y * width + x] as number) < DARKER * mean - 8) dark[y * width + x] = 1;
    }
  }
  return { width, height, dark };
}

const BINS = 720;

/**
 * How far the picture is turned, radians clockwise, -45° to 45°: the direction most edges have, modulo a right angle, in
 * eighths of a degree and then the mean about the highest. 0 where it has no edges.
 */
export function turnOf({ width, height, shades }: Grey): Radians {
  const weights = new Float64Array(BINS);
  const quarter = Math.PI / 2;
  const at = (x: number, y: number): number => shades[y * width + x] as number;
  for (let y = 1; y + 1 < height; y++)
    for (let x = 1; x + 1 < width; x++) {
      // Sobel.
      const gx =
        at(x + 1, y - 1) +
        2 * at(x + 1, y) +
        at(x + 1, y + 1) -
        at(x - 1, y - 1) -
        2 * at(x - 1, y) -
        at(x - 1, y + 1);
      const gy =
        at(x - 1, y + 1) +
        2 * at(x, y + 1) +
        at(x + 1, y + 1) -
        at(x - 1, y - 1) -
        2 * at(x, y - 1) -
        at(x + 1, y - 1);
      const strength = Math.hypot(gx, gy);
      if (strength < 200) continue;
      const angle = (((Math.atan2(gy, gx) % quarter) + quarter) % quarter) / quarter;
      const bin = Math.floor(angle * BINS) % BINS;
      weights[bin] = (weights[bin] as number) + strength;
    }
  let best = 0;
  const smooth = (i: number): number =>
    [-2, -1, 0, 1, 2].reduce((sum, d) => sum + (weights[(i + d + BINS) % BINS] as number), 0);
  for (let i = 1; i < BINS; i++) if (smooth(i) > smooth(best)) best = i;
  let [top, bottom] = [0, 0];
  for (let d = -6; d <= 6; d++) {
    const w = weights[(best + d + BINS) % BINS] as number;
    top += w * (best + d + 0.5);
    bottom += w;
  }
  if (bottom === 0) return 0;
  const turn = (top / bottom / BINS) * quarter;
  return turn > quarter / 2 ? turn - quarter : turn;
}

/** The picture turned back by `turn` about its middle, in a frame that holds all of it; paper where nothing was. */
export function turnedBack(grey: Grey, turn: Radians): Grey {
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const width = Math.ceil(Math.abs(cos) * grey.width + Math.abs(sin) * grey.height);
  const height = Math.ceil(Math.abs(sin) * grey.width + Math.abs(cos) * grey.height);
  const shades = new Uint8Array(width * height).fill(255);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const [dx, dy] = [x + 0.5 - width / 2, y + 0.5 - height / 2];
      const sx = cos * dx - sin * dy + grey.width / 2 - 0.5;
      const sy = sin * dx + cos * dy + grey.height / 2 - 0.5;
      const [x0, y0] = [Math.floor(sx), Math.floor(sy)];
      if (x0 < 0 || y0 < 0 || x0 + 1 >= grey.width || y0 + 1 >= grey.height) continue;
      const [fx, fy] = [sx - x0, sy - y0];
      const i = y0 * grey.width + x0;
      const top = (grey.shades[i] as number) * (1 - fx) + (grey.shades[i + 1] as number) * fx;
      const bottom =
        (grey.shades[i + grey.width] as number) * (1 - fx) + (grey.shades[i + grey.width + 1] as number) * fx;
      shades[y * width + x] = top * (1 - fy) + bottom * fy;
    }
  return { width, height, shades };
}

import type { Mm, PlanPoint, Px } from '../model/units.ts';

/**
 * How a camera sees a flat thing: (x, y) on it, less (flatX, flatY) and divided by flatScale, is multiplied by the 3 by 3
 * matrix of `h` (its last number is 1), and then drawn away from the picture's middle by 1 + bow r², r being the distance
 * from the middle in units of `radius` (half the picture's diagonal). Bow below nought is a barrel.
 */
export interface View {
  readonly h: readonly number[];
  readonly bow: number;
  readonly centreCol: Px;
  readonly centreRow: Px;
  readonly radius: Px;
  readonly flatX: Mm;
  readonly flatY: Mm;
  readonly flatScale: Mm;
}

type Eight = readonly [number, number, number, number, number, number, number, number];

/** Where a place of the flat thing is seen, px; null at or behind the camera's own plane. */
export function seenAt(view: View, flat: PlanPoint): { readonly col: Px; readonly row: Px } | null {
  const [a, b, c, d, e, f, i, j] = view.h as unknown as Eight;
  const x = (flat.x - view.flatX) / view.flatScale;
  const y = (flat.y - view.flatY) / view.flatScale;
  const w = i * x + j * y + 1;
  if (!(w > 1e-9)) return null;
  const p = (a * x + b * y + c) / w;
  const q = (d * x + e * y + f) / w;
  const by = view.radius * (1 + view.bow * (p * p + q * q));
  return { col: view.centreCol + p * by, row: view.centreRow + q * by };
}

export interface SeenDerivatives {
  readonly col: Px;
  readonly row: Px;
  /** By the eight numbers and the bow, in units of `radius`. */
  readonly colBy: number[];
  readonly rowBy: number[];
  /** px per mm: col by x, col by y, row by x, row by y. */
  readonly byFlat: readonly [number, number, number, number];
}

/** `seenAt` with its derivatives; for places in front of the camera. */
export function seenDerivatives(view: View, flat: PlanPoint): SeenDerivatives {
  const [a, b, c, d, e, f, i, j] = view.h as unknown as Eight;
  const x = (flat.x - view.flatX) / view.flatScale;
  const y = (flat.y - view.flatY) / view.flatScale;
  const w = i * x + j * y + 1;
  const p = (a * x + b * y + c) / w;
  const q = (d * x + e * y + f) / w;
  const r2 = p * p + q * q;
  const by = 1 + view.bow * r2;
  // Of the bowed spot by the spot without bow.
  const pp = by + 2 * view.bow * p * p;
  const pq = 2 * view.bow * p * q;
  const qq = by + 2 * view.bow * q * q;
  const pBy = [x / w, y / w, 1 / w, 0, 0, 0, (-p * x) / w, (-p * y) / w];
  const qBy = [0, 0, 0, x / w, y / w, 1 / w, (-q * x) / w, (-q * y) / w];
  const px = (a - p * i) / w;
  const py = (b - p * j) / w;
  const qx = (d - q * i) / w;
  const qy = (e - q * j) / w;
  const scale = view.radius / view.flatScale;
  return {
    col: view.centreCol + view.radius * p * by,
    row: view.centreRow + view.radius * q * by,
    colBy: [...pBy.map((v, k) => pp * v + pq * (qBy[k] as number)), p * r2],
    rowBy: [...pBy.map((v, k) => pq * v + qq * (qBy[k] as number)), q * r2],
    byFlat: [
      (pp * px + pq * qx) * scale,
      (pp * py + pq * qy) * scale,
      (pq * px + qq * qx) * scale,
      (pq * py + qq * qy) * scale,
    ],
  };
}

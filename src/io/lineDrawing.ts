/** A layer of a drawing, as its file names it. */
export interface DrawingLayer {
  readonly name: string;
  /** How many paths lie on it. */
  readonly paths: number;
  /** The file itself shows it: neither frozen nor switched off. */
  readonly shown: boolean;
}

/** A text of a drawing: lower left corner and height, in the drawing's units from its origin. */
export interface DrawingText {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly height: number;
  readonly layer: number;
}

/** Something of the file that was left out, in words, and how often. */
export interface LeftOut {
  readonly what: string;
  readonly count: number;
}

export interface DrawingBox {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** Units a drawing may say it is in; null where it says none. */
export type StatedUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft' | null;

/**
 * The lines of a drawing, whatever kind of file they came from: x to the right, y down, in the drawing's own units from
 * `origin`. Path i runs over the vertices `starts[i]` to `starts[i + 1]` of `coords` (x, y, x, y, ...).
 */
export interface LineDrawing {
  readonly coords: Float64Array;
  readonly starts: Uint32Array;
  /** Index into `layers`, a path each. */
  readonly pathLayers: Uint16Array;
  /** 1 where the last vertex is joined to the first. */
  readonly closed: Uint8Array;
  readonly layers: readonly DrawingLayer[];
  readonly texts: readonly DrawingText[];
  /** What was taken off every coordinate of the file (its y upwards still), so that small numbers are left. */
  readonly origin: { readonly x: number; readonly y: number };
  /** Of all lines. */
  readonly box: DrawingBox;
  /** Of the main part, when a few strays lie far off; else the same as `box`. */
  readonly mainBox: DrawingBox;
  readonly unit: StatedUnit;
  readonly leftOut: readonly LeftOut[];
}

/** mm of one unit, exactly (1 inch = 25.4 mm, BS 350). */
export const UNIT_MM: Readonly<Record<NonNullable<StatedUnit>, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: 25.4,
  ft: 304.8,
};

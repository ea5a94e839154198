import type { SourceBox, TracingSource } from '../engine/model/tracing.ts';

/** Part of a page as drawn: where it belongs, in the unit of its source, and its picture. */
export interface DrawnTile {
  readonly box: SourceBox;
  readonly bitmap: ImageBitmap;
}

/** Straight lines of a drawing, in the unit of its source from its top left corner, y down. */
export interface DrawnLines {
  /** ax, ay, bx, by of one line after the other. */
  readonly segments: Float64Array;
  /** Numbers of the lines whose boxes touch a part. */
  near(part: SourceBox): readonly number[];
}

export type PageSource = Extract<TracingSource, { readonly kind: 'page' }>;
export type LinesSource = Extract<TracingSource, { readonly kind: 'lines' }>;

/** Pages and line drawings of the plan, read when they are first asked for. */
export interface DrawingSource {
  /**
   * What is drawn so far of the part of a page in sight, at `scale` screen pixels a point: all of it sharp, or the whole
   * page coarse and over it what is sharp. What is missing is drawn now (subscribers hear when it is there).
   */
  tiles(source: PageSource, inSight: SourceBox, scale: number): readonly DrawnTile[];
  /** The lines of a drawing or a page; null while they are being read, and where there are none. */
  lines(source: PageSource | LinesSource): DrawnLines | null;
  subscribe(listener: () => void): () => void;
}

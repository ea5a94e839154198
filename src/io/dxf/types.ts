import type { LineDrawing } from '../lineDrawing.ts';

/** What came of a file: its lines, or one plain sentence saying why there are none. */
export type DxfResult =
  { readonly ok: true; readonly drawing: LineDrawing } | { readonly ok: false; readonly message: string };

/** Bounds of what is read, so that no file can hold the worker or fill the memory. Own choice. */
export const DXF_LIMITS = {
  bytes: 50 * 1024 * 1024,
  entities: 500_000,
  /** Entities once every inserted block has been drawn, counted before any is. */
  expanded: 1_000_000,
  depth: 8,
  /** Rows times columns of one array of blocks. */
  array: 10_000,
  vertices: 4_000_000,
  layers: 2_000,
  texts: 20_000,
  coordinate: 1e9,
} as const;

/** Thrown inside the reader only, and caught at its edge: the sentence the person reads. */
export class DxfRefused extends Error {}

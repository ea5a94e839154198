/** One line of vertices (x, y, x, y, ...), y up, in the coordinates of its block or of the drawing. */
export interface Path {
  readonly kind: 'path';
  readonly layer: string;
  readonly vertices: Float64Array;
  readonly closed: boolean;
}

export interface TextItem {
  readonly kind: 'text';
  readonly layer: string;
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly height: number;
}

/** A block drawn at a place, turned (degrees), scaled, in rows and columns. */
export interface Insert {
  readonly kind: 'insert';
  readonly layer: string;
  readonly block: string;
  readonly x: number;
  readonly y: number;
  readonly scaleX: number;
  readonly scaleY: number;
  readonly rotation: number;
  readonly rows: number;
  readonly columns: number;
  readonly rowSpacing: number;
  readonly columnSpacing: number;
  /** Its axis points away from the viewer: drawn mirrored in x. */
  readonly mirrored: boolean;
}

export type Item = Path | TextItem | Insert;

export interface Block {
  readonly baseX: number;
  readonly baseY: number;
  readonly items: Item[];
}

/** A file as read, before any block is drawn. Names are keys of maps only, so no name can do harm. */
export interface DxfModel {
  readonly blocks: ReadonlyMap<string, Block>;
  readonly items: readonly Item[];
  readonly layers: ReadonlyMap<string, { readonly shown: boolean }>;
  /** Code of $INSUNITS; null where the header has none. */
  readonly insUnits: number | null;
  readonly leftOut: Map<string, number>;
}

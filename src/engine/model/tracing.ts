import type { DateText, Id, Side } from './ids.ts';
import type { Mm, Px, Radians } from './units.ts';

/**
 * One known length on a tracing: its ends in the units of its source (`TracingSource`), x right and y down from the top left
 * corner. For a picture that is pixels, after EXIF rotation.
 */
export interface KnownLength {
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
  readonly length: Mm;
}

/** A spot of a wall's side: mm on its centre line from its first node, and mm above the finished floor. */
export interface WallSpot {
  readonly along: Mm;
  readonly z: Mm;
}

/**
 * How a tracing lies. On a storey: plan place of its top left corner, and the turn about that corner, clockwise on screen.
 * On a side of a wall: where its four corners are, from the top left one clockwise as someone facing the wall sees them.
 */
export type TracingLies =
  | {
      readonly on: 'storey';
      readonly storey: Id;
      readonly x: Mm;
      readonly y: Mm;
      readonly rotation: Radians;
    }
  | {
      readonly on: 'face';
      readonly wall: Id;
      readonly side: Side;
      readonly corners: readonly [WallSpot, WallSpot, WallSpot, WallSpot];
    };

/** A spot of a photograph whose place on the flat thing photographed is known: px (as taken, upright), and mm on that thing. */
export interface StraightenMark {
  readonly col: Px;
  readonly row: Px;
  readonly x: Mm;
  readonly y: Mm;
}

/**
 * A photograph of something flat, seen at an angle, made square to it: the spots that were marked, and what is shown. How it
 * lies is worked out from the marks (`engine/geometry/straightened.ts`), with how far that can be trusted.
 */
export interface Straighten {
  /**
   * What the marks are: the corners of a sheet of paper of known size (mm are then mm of paper), or of something rectangular on
   * the drawing with two known lengths (mm of the building).
   */
  readonly by: 'sheet' | 'lengths';
  /** Four at least; from the top left one, clockwise. */
  readonly marks: readonly StraightenMark[];
  /** How far off each mark may be, one standard deviation. */
  readonly markSd: Px;
  /** The photograph as taken, upright. */
  readonly pictureWidth: Px;
  readonly pictureHeight: Px;
  /** The part of the flat thing that is shown, in its mm. */
  readonly left: Mm;
  readonly top: Mm;
  readonly width: Mm;
  readonly height: Mm;
}

/** A part of a page or drawing, in its own units. */
export interface SourceBox {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export type PictureType = 'image/png' | 'image/jpeg' | 'image/webp';

/** Media type of what a tracing shows. */
export type AssetType = PictureType | 'application/pdf' | 'image/vnd.dxf';

/**
 * What a tracing shows. `asset` is the SHA-256 of the bytes, hex: they are kept beside the plan. `width` and `height` are in
 * the unit of the source, of what is shown of it: upright pixels of a picture (mm once it is straightened), points (1/72 inch)
 * of a page after its turn and crop, units of a drawing.
 */
export type TracingSource =
  | {
      readonly kind: 'picture';
      readonly asset: string;
      readonly mediaType: PictureType;
      readonly width: number;
      readonly height: number;
      readonly straighten: Straighten | null;
    }
  | {
      readonly kind: 'page';
      readonly asset: string;
      /** Counted from 1. */
      readonly page: number;
      /** Clockwise, on top of the page's own. */
      readonly quarterTurns: 0 | 1 | 2 | 3;
      /** Points from the page's top left corner, after the turn; null for the whole page. */
      readonly crop: SourceBox | null;
      /** Names of the layers shown; null for those the file itself shows. */
      readonly layers: readonly string[] | null;
      readonly width: number;
      readonly height: number;
    }
  | {
      readonly kind: 'lines';
      readonly asset: string;
      /** mm of one unit of the drawing, as the file or the person says; null when nobody has. */
      readonly unit: Mm | null;
      /** Where the top left corner lies in the drawing: units of the file, its y up. */
      readonly offset: { readonly x: number; readonly y: number };
      readonly layers: readonly string[] | null;
      readonly width: number;
      readonly height: number;
    };

export interface TracingScale {
  /** mm of one unit of the source: a pixel, a point, a unit of the drawing. */
  readonly mmPerUnit: number;
  /** Lengths somebody has measured, marked on it. */
  readonly known: readonly KnownLength[];
  /** What it says of its own scale ("1:50", "drawn in millimetres"), once taken at its word; null when it is not. */
  readonly stated: string | null;
}

/** What lies under the plan, or on a wall, to be traced: how it lies, what it shows, and how true to scale it is. */
export interface Tracing {
  readonly id: Id;
  readonly name: string;
  readonly lies: TracingLies;
  readonly source: TracingSource;
  readonly scale: TracingScale;
  /** Date and revision it carries, as drawings do: null and '' where it has none. */
  readonly date: DateText | null;
  readonly revision: string;
  /** How strongly it is drawn, 0 to 1. */
  readonly opacity: number;
  readonly locked: boolean;
  readonly visible: boolean;
}

/** A tracing that lies under a storey. */
export type StoreyTracing = Tracing & { readonly lies: Extract<TracingLies, { readonly on: 'storey' }> };

/** A tracing that lies on a side of a wall. */
export type FaceTracing = Tracing & { readonly lies: Extract<TracingLies, { readonly on: 'face' }> };

export function liesOnStorey(tracing: Tracing): tracing is StoreyTracing {
  return tracing.lies.on === 'storey';
}

/** Media type of what a tracing shows. */
export function mediaTypeOf(source: TracingSource): AssetType {
  switch (source.kind) {
    case 'picture':
      return source.mediaType;
    case 'page':
      return 'application/pdf';
    case 'lines':
      return 'image/vnd.dxf';
  }
}

import type { Gangs, PointKind } from '../../engine/model/document.ts';
import type { FacePoint, Mm } from '../../engine/model/units.ts';

/** What an area of a face is, which decides how it is filled. */
export type AreaLook =
  | 'wall'
  | 'opening'
  | 'thing'
  | 'no-cable'
  | 'plate'
  | 'plate-ghost'
  | 'zone'
  | 'zone-reverse'
  | 'zone-disputed'
  | 'zone-disputed-reverse'
  | 'picked';

/** What a line is. The four answers differ in colour, in width and in pattern. */
export type LineLook =
  | 'top'
  | 'floor'
  | 'end'
  | 'opening'
  | 'leg-inside'
  | 'leg-outside'
  | 'leg-disputed'
  | 'leg-not-checked'
  | 'leg-far'
  | 'riser'
  | 'dimension'
  | 'picked';

export type TextLook =
  | 'caption'
  | 'small'
  | 'zone'
  | 'zone-disputed'
  | 'point'
  | 'ghost'
  | 'length'
  | 'out'
  | 'disputed'
  | 'dimension';

/** One thing to draw on a face, in that face's millimetres. Plain data, so that what is drawn can be tested. */
export type FaceMark =
  | { readonly kind: 'area'; readonly outline: readonly FacePoint[]; readonly look: AreaLook }
  | { readonly kind: 'line'; readonly points: readonly FacePoint[]; readonly look: LineLook }
  | {
      readonly kind: 'symbol';
      readonly at: FacePoint;
      readonly symbol: PointKind;
      readonly gangs: Gangs;
      readonly ghost: boolean;
      /** Its label and height, drawn below it. */
      readonly label: string;
      /** Half the plate's height, mm. */
      readonly half: Mm;
    }
  /** Small round mark: a hole through the wall, or the end of a drop. */
  | { readonly kind: 'hole'; readonly at: FacePoint }
  | {
      readonly kind: 'text';
      readonly at: FacePoint;
      readonly text: string;
      readonly look: TextLook;
      readonly align: 'left' | 'centre' | 'right';
      /** Screen pixels up from `at`. */
      readonly lift: number;
      /** Stands to the right of `at`, or to its left where that is taken: for legs that run up and down. */
      readonly beside: boolean;
      /** Reads upwards along the wall's height. */
      readonly upright: boolean;
      /** Left out when there is less than this length for it, mm; 0 for always. */
      readonly room: Mm;
      /** Left out when this is thinner on screen than the letters are high, mm; 0 for always. */
      readonly across: Mm;
    };

/** A rectangle of a face as an outline. */
export function rectangle(u0: Mm, z0: Mm, u1: Mm, z1: Mm): FacePoint[] {
  return [
    { u: u0, z: z0 },
    { u: u1, z: z0 },
    { u: u1, z: z1 },
    { u: u0, z: z1 },
  ];
}

/** A text mark; level, centred and always shown unless told otherwise. */
export function text(
  at: FacePoint,
  words: string,
  look: TextLook,
  more: Partial<{
    align: 'left' | 'centre' | 'right';
    lift: number;
    upright: boolean;
    beside: boolean;
    room: Mm;
    across: Mm;
  }> = {},
): FaceMark {
  return {
    kind: 'text',
    at,
    text: words,
    look,
    align: 'centre',
    lift: 0,
    upright: false,
    beside: false,
    room: 0,
    across: 0,
    ...more,
  };
}

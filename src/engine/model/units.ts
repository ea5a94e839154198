/**
 * Units and spaces in the type. A plain number may flow into a unit, but one unit never flows into another:
 * `Mm` is not assignable to `Px`. Conversion between spaces happens only in the camera and in the wall frame.
 */
export type Mm = number & { readonly unit?: 'mm' };
export type Px = number & { readonly unit?: 'px' };
export type Radians = number & { readonly unit?: 'rad' };
export type Ohm = number & { readonly unit?: 'ohm' };
export type Amp = number & { readonly unit?: 'A' };
export type Metre = number & { readonly unit?: 'm' };
/** Money in the currency of the job, in whole or fractional main units. */
export type Money = number & { readonly unit?: 'money' };

/** A point of the plan: x right, y down, mm. */
export interface PlanPoint {
  readonly x: Mm;
  readonly y: Mm;
}

/** A point of a face: u mm from its left-hand end as seen by someone facing the wall, z mm above finished floor. */
export interface FacePoint {
  readonly u: Mm;
  readonly z: Mm;
}

/** A point in the building: plan x, y and z above the job's datum, mm. */
export interface SpacePoint {
  readonly x: Mm;
  readonly y: Mm;
  readonly z: Mm;
}

/** A point of a canvas, CSS pixels from its top left. */
export interface ScreenPoint {
  readonly px: Px;
  readonly py: Px;
}

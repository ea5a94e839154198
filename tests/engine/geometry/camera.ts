import type { PictureSpot } from '../../../src/engine/geometry/flattening.ts';
import type { PlanPoint } from '../../../src/engine/model/units.ts';

/** A pinhole camera that looks at a flat sheet, with a radial bow: made here, shares no code with the product. */
export interface Camera {
  readonly width: number;
  readonly height: number;
  /** Focal length, px. */
  readonly focal: number;
  /** Rows of the rotation from the sheet's axes (x right, y down, z away) to the camera's. */
  readonly rotation: readonly [Row, Row, Row];
  /** Middle of the sheet in camera coordinates, mm. */
  readonly shift: Row;
  /** Bow at half the diagonal, as a share: -0.01 is a barrel of 1 %. */
  readonly bow: number;
}
type Row = readonly [number, number, number];

/** Tilted by `tilt` about an axis at `towards` in the sheet, and rolled by `roll`; radians. */
export function cameraOf(o: {
  tilt: number;
  towards: number;
  roll: number;
  distance: number;
  bow?: number;
  width?: number;
  height?: number;
  focal?: number;
}): Camera {
  const { tilt, towards, roll, distance, bow = 0, width = 4000, height = 3000, focal = 3100 } = o;
  const [ax, ay] = [Math.cos(towards), Math.sin(towards)];
  const [c, s] = [Math.cos(tilt), Math.sin(tilt)];
  // Rodrigues about (ax, ay, 0).
  const turn: [Row, Row, Row] = [
    [c + ax * ax * (1 - c), ax * ay * (1 - c), ay * s],
    [ax * ay * (1 - c), c + ay * ay * (1 - c), -ax * s],
    [-ay * s, ax * s, c],
  ];
  const [cr, sr] = [Math.cos(roll), Math.sin(roll)];
  const mix = (i: 0 | 1 | 2): Row => [turn[i][0], turn[i][1], turn[i][2]];
  const [x, y, z] = [mix(0), mix(1), mix(2)];
  return {
    width,
    height,
    focal,
    rotation: [
      [cr * x[0] - sr * y[0], cr * x[1] - sr * y[1], cr * x[2] - sr * y[2]],
      [sr * x[0] + cr * y[0], sr * x[1] + cr * y[1], sr * x[2] + cr * y[2]],
      z,
    ],
    shift: [0, 0, distance],
    bow,
  };
}

/** Where the camera sees a spot of the sheet, given from the sheet's middle in mm. */
export function photographed(camera: Camera, p: PlanPoint): PictureSpot {
  const at = camera.rotation.map(
    (row, i) => row[0] * p.x + row[1] * p.y + (camera.shift[i] as number),
  ) as unknown as Row;
  const x = (camera.focal * at[0]) / at[2];
  const y = (camera.focal * at[1]) / at[2];
  const half = Math.hypot(camera.width, camera.height) / 2;
  const by = 1 + (camera.bow * (x * x + y * y)) / half ** 2;
  return { col: camera.width / 2 + x * by, row: camera.height / 2 + y * by };
}

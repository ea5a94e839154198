declare module 'perspective-transform' {
  /** Plane to plane through four pairs of corners: x1, y1, x2, y2, ... */
  class PerspT {
    constructor(from: readonly number[], to: readonly number[]);
    transform(x: number, y: number): [number, number];
  }
  export = PerspT;
}

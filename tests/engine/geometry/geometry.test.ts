import fc from 'fast-check';
import polygonClipping from 'polygon-clipping';
import { describe, expect, test } from 'vitest';
import {
  angleSigned,
  angleWrapped,
  degrees,
  lineAngleBetween,
  vectorAngle,
} from '../../../src/engine/geometry/angle.ts';
import { clipSegmentToConvex } from '../../../src/engine/geometry/clip.ts';
import { segmentGrid } from '../../../src/engine/geometry/grid.ts';
import {
  intervalGaps,
  intervalOverlap,
  intervalTotal,
  intervalUnion,
} from '../../../src/engine/geometry/interval.ts';
import {
  pointInPolygon,
  polygonArea,
  polygonCentroid,
  polygonPerimeter,
} from '../../../src/engine/geometry/polygon.ts';
import {
  lineMeeting,
  segmentCrossing,
  segmentFoot,
  segmentNearest,
} from '../../../src/engine/geometry/segment.ts';
import { rigidApply, rigidInvert, rigidOf, rigidQuarter } from '../../../src/engine/geometry/transform.ts';
import type { PlanPoint } from '../../../src/engine/model/units.ts';

const P = (x: number, y: number): PlanPoint => ({ x, y });
const whole = fc.integer({ min: -500, max: 500 });
const point = fc.record({ x: whole, y: whole });

/** A simple ring: corners at rising angles round a centre, at random distances (star-shaped, often not convex). */
const star = fc
  .tuple(point, fc.array(fc.integer({ min: 20, max: 400 }), { minLength: 3, maxLength: 12 }))
  .map(([c, radii]) =>
    radii.map((r, i) => {
      const a = (2 * Math.PI * i) / radii.length;
      return P(c.x + r * Math.cos(a), c.y + r * Math.sin(a));
    }),
  );

const libraryArea = (ring: readonly PlanPoint[]): number => {
  // polygon-clipping gives closed rings; the shoelace sum over them is the check's own.
  const out = polygonClipping.union([ring.map((p): [number, number] => [p.x, p.y])]);
  let sum = 0;
  for (const poly of out)
    poly.forEach((r, hole) => {
      let twice = 0;
      for (let i = 0; i + 1 < r.length; i++) {
        const [px, py] = r[i] as [number, number];
        const [qx, qy] = r[i + 1] as [number, number];
        twice += px * qy - qx * py;
      }
      sum += (hole === 0 ? 1 : -1) * Math.abs(twice / 2);
    });
  return sum;
};

describe('polygons', () => {
  test('area: y down, clockwise on screen is positive; a 3 by 2 rectangle holds 6', () => {
    const ring = [P(1000, 1000), P(1003, 1000), P(1003, 1002), P(1000, 1002)];
    expect(polygonArea(ring)).toBe(6);
    expect(polygonArea(ring.toReversed())).toBe(-6);
    expect(polygonPerimeter(ring)).toBe(10);
    expect(polygonArea([])).toBe(0);
  });

  test('area of random rings equals polygon-clipping', () => {
    fc.assert(
      fc.property(star, (ring) => {
        expect(polygonArea(ring)).toBeCloseTo(libraryArea(ring), 4);
      }),
      { numRuns: 300 },
    );
  });

  test('centroid of an L, by hand: a 4x2 and a 2x2 block', () => {
    // Block one: centre (2, 1), area 8. Block two below its left half: centre (1, 3), area 4. (8*2+4*1)/12, (8*1+4*3)/12.
    const c = polygonCentroid([P(0, 0), P(4, 0), P(4, 2), P(2, 2), P(2, 4), P(0, 4)]);
    expect(c?.x).toBeCloseTo(20 / 12, 12);
    expect(c?.y).toBeCloseTo(20 / 12, 12);
    expect(polygonCentroid([])).toBeNull();
    expect(polygonCentroid([P(0, 0), P(4, 2)])).toEqual(P(2, 1));
  });

  test('point in polygon: corners and edges are edges, within the tolerance asked for', () => {
    const ring = [P(0, 0), P(10, 0), P(10, 10), P(0, 10)];
    expect(pointInPolygon(P(0, 0), ring, 0)).toBe('edge');
    expect(pointInPolygon(P(10, 5), ring, 0)).toBe('edge');
    expect(pointInPolygon(P(10.5, 5), ring, 0)).toBe('outside');
    expect(pointInPolygon(P(10.5, 5), ring, 0.5)).toBe('edge');
    expect(pointInPolygon(P(5, 5), ring, 0)).toBe('inside');
    expect(pointInPolygon(P(-1, 0), ring, 0)).toBe('outside');
    expect(pointInPolygon(P(-1, 10), ring, 0)).toBe('outside');
  });

  test('point in polygon equals the sum of angles under which the edges are seen', () => {
    // Oracle: the edges of a closed ring are seen from a point under angles that add up to ±2π inside and 0 outside.
    fc.assert(
      fc.property(star, point, (ring, p) => {
        const found = pointInPolygon(p, ring, 1e-3);
        fc.pre(found !== 'edge');
        let seen = 0;
        ring.forEach((a, i) => {
          const b = ring[(i + 1) % ring.length] as PlanPoint;
          seen += angleSigned(Math.atan2(b.y - p.y, b.x - p.x) - Math.atan2(a.y - p.y, a.x - p.x));
        });
        expect(found).toBe(Math.abs(seen) > Math.PI ? 'inside' : 'outside');
      }),
      { numRuns: 1000 },
    );
  });
});

describe('segments', () => {
  test('foot: along and off, off positive to the right of travel on screen', () => {
    expect(segmentFoot(P(3, 4), P(0, 0), P(10, 0))).toEqual({ along: 3, off: 4 });
    expect(segmentFoot(P(3, 4), P(1, 1), P(1, 1))).toBeNull();
    expect(segmentNearest(P(13, 4), P(0, 0), P(10, 0))).toEqual({ point: P(10, 0), t: 1, distance: 5 });
    expect(segmentNearest(P(3, 4), P(0, 0), P(0, 0)).distance).toBe(5);
  });

  test('crossing by hand; parallel and overlapping never cross', () => {
    expect(segmentCrossing(P(0, 0), P(10, 0), P(4, -2), P(4, 6), 1e-9)).toEqual({
      t: 0.4,
      s: 0.25,
      point: P(4, 0),
    });
    expect(segmentCrossing(P(0, 0), P(10, 0), P(4, 1), P(4, 6), 1e-9)).toBeNull();
    expect(segmentCrossing(P(0, 0), P(10, 0), P(2, 0), P(30, 0), 1e-9)).toBeNull();
    expect(lineMeeting(P(0, 0), P(1, 0), P(5, 5), P(0, 1), 1e-9)).toEqual({ s: 5, t: -5, point: P(5, 0) });
    expect(lineMeeting(P(0, 0), P(1, 0), P(5, 5), P(1, 0), 1e-9)).toBeNull();
  });

  test('clip to a convex polygon: hand cases', () => {
    const box = [P(0, 0), P(10, 0), P(10, 10), P(0, 10)];
    expect(clipSegmentToConvex(P(-5, 5), P(15, 5), box, 0)).toEqual({ t0: 0.25, t1: 0.75 });
    expect(clipSegmentToConvex(P(-5, 5), P(15, 5), box.toReversed(), 0)).toEqual({ t0: 0.25, t1: 0.75 });
    expect(clipSegmentToConvex(P(0, 10), P(10, 10), box, 0)).toEqual({ t0: 0, t1: 1 });
    expect(clipSegmentToConvex(P(0, 10.5), P(10, 10.5), box, 0)).toBeNull();
    expect(clipSegmentToConvex(P(0, 10.5), P(10, 10.5), box, 0.5)).toEqual({ t0: 0, t1: 1 });
    expect(clipSegmentToConvex(P(10, 5), P(20, 5), box, 0)).toEqual({ t0: 0, t1: 0 });
    expect(clipSegmentToConvex(P(5, 5), P(5, 5), box, 0)).toEqual({ t0: 0, t1: 1 });
    expect(clipSegmentToConvex(P(5, 5), P(6, 5), [P(0, 0), P(9, 0)], 0)).toBeNull();
  });

  test('clip of random segments by random triangles equals cutting at every edge and asking the pieces', () => {
    fc.assert(
      fc.property(point, point, fc.tuple(point, point, point), (a, b, tri) => {
        fc.pre(Math.abs(polygonArea(tri)) > 50 && (a.x !== b.x || a.y !== b.y));
        const cuts = [0, 1];
        tri.forEach((p, i) => {
          const hit = segmentCrossing(a, b, p, tri[(i + 1) % 3] as PlanPoint, 1e-12);
          if (hit) cuts.push(hit.t);
        });
        cuts.sort((x, y) => x - y);
        let inside = 0;
        for (let i = 0; i + 1 < cuts.length; i++) {
          const t0 = cuts[i] as number;
          const t1 = cuts[i + 1] as number;
          const t = (t0 + t1) / 2;
          const mid = P(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
          if (pointInPolygon(mid, tri, 1e-9) !== 'outside') inside += t1 - t0;
        }
        const clip = clipSegmentToConvex(a, b, tri, 0);
        expect(clip ? clip.t1 - clip.t0 : 0).toBeCloseTo(inside, 8);
      }),
      { numRuns: 2000 },
    );
  });

  test('a grid cell names every segment near a point, against asking them all', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(point, point), { maxLength: 30 }), point, (pairs, p) => {
        const segments = pairs.map(([a, b]) => ({ a, b, reach: 15 }));
        const near = new Set(segmentGrid(segments, 40).near(p));
        segments.forEach(({ a, b }, i) => {
          if (segmentNearest(p, a, b).distance <= 15) expect(near.has(i)).toBe(true);
        });
      }),
      { numRuns: 500 },
    );
  });
});

describe('intervals', () => {
  const spans = fc.array(
    fc
      .tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 8 }))
      .map(([lo, l]) => ({ lo, hi: lo + l })),
    { maxLength: 12 },
  );

  test('union and gaps against marking unit cells one by one', () => {
    fc.assert(
      fc.property(spans, (list) => {
        const cells = Array.from({ length: 50 }, (_, i) => list.some((s) => s.lo <= i && s.hi >= i + 1));
        const covered = cells.filter(Boolean).length;
        expect(intervalTotal(list)).toBe(covered);
        const gaps = intervalGaps({ lo: 0, hi: 50 }, list, 0);
        expect(gaps.reduce((s, g) => s + g.hi - g.lo, 0)).toBe(50 - covered);
        for (const g of gaps)
          for (const s of list) expect(Math.min(g.hi, s.hi) - Math.max(g.lo, s.lo)).toBeLessThanOrEqual(0);
        const union = intervalUnion(list, 0);
        for (let i = 1; i < union.length; i++)
          expect((union[i] as { lo: number }).lo).toBeGreaterThan((union[i - 1] as { hi: number }).hi);
      }),
    );
  });

  test('tolerance closes gaps; a touch is an overlap', () => {
    expect(
      intervalUnion(
        [
          { lo: 0, hi: 1 },
          { lo: 1.5, hi: 2 },
        ],
        0.5,
      ),
    ).toEqual([{ lo: 0, hi: 2 }]);
    expect(
      intervalUnion(
        [
          { lo: 0, hi: 1 },
          { lo: 1.5, hi: 2 },
        ],
        0.4,
      ),
    ).toHaveLength(2);
    expect(intervalOverlap({ lo: 0, hi: 1 }, { lo: 1, hi: 2 })).toEqual({ lo: 1, hi: 1 });
    expect(intervalOverlap({ lo: 0, hi: 1 }, { lo: 1.1, hi: 2 })).toBeNull();
  });
});

describe('angles and rigid moves', () => {
  test('wrapping', () => {
    expect(angleWrapped(-Math.PI / 2)).toBeCloseTo(1.5 * Math.PI, 12);
    expect(angleWrapped(2 * Math.PI)).toBe(0);
    expect(angleSigned(1.5 * Math.PI)).toBeCloseTo(-Math.PI / 2, 12);
    expect(lineAngleBetween(degrees(10), degrees(185))).toBeCloseTo(degrees(5), 12);
    expect(vectorAngle(P(0, 1))).toBeCloseTo(Math.PI / 2, 12);
  });

  test('a move and its undoing give the point back; lengths stay; quarter turns are exact', () => {
    fc.assert(
      fc.property(
        point,
        point,
        fc.double({ min: -7, max: 7, noNaN: true }),
        fc.boolean(),
        (p, q, turn, mirror) => {
          const t = rigidOf(turn, 17, -4, mirror);
          const back = rigidInvert(t, rigidApply(t, p));
          expect(Math.hypot(back.x - p.x, back.y - p.y)).toBeLessThan(1e-9);
          const [a, b] = [rigidApply(t, p), rigidApply(t, q)];
          expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeCloseTo(Math.hypot(p.x - q.x, p.y - q.y), 8);
        },
      ),
    );
    expect(rigidApply(rigidQuarter(1, 0, 0), P(3, 4))).toEqual(P(-4, 3));
  });
});

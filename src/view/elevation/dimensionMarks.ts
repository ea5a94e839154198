import { figure } from './captions.ts';
import { legOnFace } from './legMarks.ts';
import { text, type FaceMark } from './marks.ts';
import { halfSize, type PointOnFace } from './pointMarks.ts';
import type { Face } from '../../engine/fabric/types.ts';
import type { FacePoint } from '../../engine/model/units.ts';
import type { RunCheck } from '../../engine/zones/types.ts';

/** Figures of a place: from the left-hand end along the floor, and from the floor up. */
export function placeFigures(at: FacePoint): FaceMark[] {
  const foot = { u: at.u, z: -90 };
  return [
    { kind: 'line', look: 'dimension', points: [{ u: 0, z: -90 }, foot] },
    { kind: 'line', look: 'dimension', points: [{ u: at.u, z: 0 }, at] },
    text({ u: at.u / 2, z: -90 }, figure(at.u), 'dimension', { lift: -9 }),
    text({ u: at.u + 20, z: -90 }, `${figure(at.z)} up`, 'dimension', { lift: -9, align: 'left' }),
  ];
}

/** Figures of a point: its centre's. */
export function pointFigures(on: PointOnFace): FaceMark[] {
  const half = halfSize(on.point);
  return [
    ...placeFigures(on.at),
    {
      kind: 'area',
      look: 'picked',
      outline: [
        { u: on.at.u - half.u - 25, z: on.at.z - half.z - 25 },
        { u: on.at.u + half.u + 25, z: on.at.z - half.z - 25 },
        { u: on.at.u + half.u + 25, z: on.at.z + half.z + 25 },
        { u: on.at.u - half.u - 25, z: on.at.z + half.z + 25 },
      ],
    },
  ];
}

/** Figures of a run's legs on this face: each level leg's height, each plumb leg's distance from the left. */
export function runFigures(run: RunCheck, face: Face): FaceMark[] {
  // Legs in line with each other have one figure between them.
  const said = new Set<string>();
  const once = (key: string, mark: FaceMark): FaceMark[] => {
    if (said.has(key)) return [];
    said.add(key);
    return [mark];
  };
  return run.legs.flatMap(({ leg }): FaceMark[] => {
    const on = legOnFace(face, leg);
    if (!on) return [];
    const { a, b, far } = on;
    const line: FaceMark = { kind: 'line', look: 'picked', points: [a, b] };
    if (far) return [line];
    if (Math.abs(b.z - a.z) < Math.abs(b.u - a.u)) {
      const u = Math.min(a.u, b.u) + Math.abs(b.u - a.u) * 0.25;
      return [
        line,
        {
          kind: 'line',
          look: 'dimension',
          points: [
            { u, z: 0 },
            { u, z: a.z },
          ],
        },
        ...once(
          `z${figure(a.z)}`,
          text({ u, z: a.z / 2 }, figure(a.z), 'dimension', { lift: 9, upright: true }),
        ),
      ];
    }
    const z = -90;
    return [
      line,
      {
        kind: 'line',
        look: 'dimension',
        points: [
          { u: 0, z },
          { u: a.u, z },
          { u: a.u, z: 0 },
        ],
      },
      ...once(`u${figure(a.u)}`, text({ u: a.u / 2, z }, figure(a.u), 'dimension', { lift: -9 })),
    ];
  });
}

import { pointFigures, runFigures } from './dimensionMarks.ts';
import { thingMarks, wallMarks } from './fabricMarks.ts';
import { legMarks, legTexts, runsOnFace } from './legMarks.ts';
import type { FaceMark } from './marks.ts';
import { pointMarks, pointsOnFace, type PointOnFace } from './pointMarks.ts';
import { zoneFills, zoneTexts } from './zoneMarks.ts';
import type { Derived } from '../../engine/derive/types.ts';
import type { Fabric, Face } from '../../engine/fabric/types.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import type { RunCheck } from '../../engine/zones/types.ts';
import type { Ref } from '../../tools/types.ts';

/** All that is drawn of one face, by layer. */
export interface FaceDrawing {
  readonly ground: readonly FaceMark[];
  readonly middle: readonly FaceMark[];
  readonly front: readonly FaceMark[];
  readonly points: readonly PointOnFace[];
  readonly runs: readonly RunCheck[];
}

/** Wall, openings and zones lie at the back; points in the middle; legs and words in front. */
export function drawFace(
  doc: PlanDocument,
  derived: Derived,
  fabric: Fabric,
  face: Face,
  showZones: boolean,
): FaceDrawing {
  const zones = showZones ? (derived.zones.get(face.id) ?? []) : [];
  const points = pointsOnFace(doc, fabric, face);
  const runs = runsOnFace(derived.runs, face);
  const wall = wallMarks(face);
  // The wall's surface first, its lines after the zones, so that a fill never covers a line.
  return {
    ground: [...wall.slice(0, 1), ...zoneFills(zones), ...wall.slice(1), ...thingMarks(doc, face)],
    middle: pointMarks(points),
    front: [
      ...runs.flatMap((run) => legMarks(run, face)),
      ...zoneTexts(doc, zones),
      ...runs.flatMap((run) => legTexts(doc, run, face)),
    ],
    points,
    runs,
  };
}

/** What is selected, hovered or lit on a face, with its figures. */
export function figuresOn(
  drawing: FaceDrawing,
  face: Face,
  refs: readonly Ref[],
  lit: ReadonlySet<string>,
): FaceMark[] {
  const has = (table: Ref['table'], id: string): boolean =>
    refs.some((r) => r.table === table && r.id === id);
  const marks: FaceMark[] = [];
  for (const on of drawing.points) {
    if (on.ghost) continue;
    if (has('points', on.point.id) || lit.has(`point:${on.point.id}`)) marks.push(...pointFigures(on));
  }
  for (const run of drawing.runs) {
    const stretches = [...lit]
      .filter((key) => key.startsWith(`run:${run.run}:`))
      .map((key) => Number(key.split(':')[2]));
    if (has('runs', run.run) || lit.has(`run:${run.run}`)) marks.push(...runFigures(run, face));
    else if (stretches.length > 0) {
      marks.push(
        ...runFigures({ ...run, legs: run.legs.filter((c) => stretches.includes(c.leg.stretch)) }, face),
      );
    }
  }
  if (lit.has(`face:${face.id}`)) {
    marks.push({
      kind: 'area',
      look: 'picked',
      outline: [{ u: 0, z: 0 }, { u: face.length, z: 0 }, ...[...face.top].reverse()],
    });
  }
  return marks;
}

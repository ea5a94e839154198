import { figure, metres, faceHeading } from './captions.ts';
import type { FaceDrawing } from './drawings.ts';
import { legOnFace } from './legMarks.ts';
import type { BandLayout } from './layout.ts';
import type { MirrorItem } from '../shared/mirror.ts';
import type { Fabric } from '../../engine/fabric/types.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import { POINT_KINDS } from '../../engine/model/pointKinds.ts';

const ANSWERS = {
  inside: 'inside the permitted zones',
  outside: 'outside the permitted zones',
  disputed: 'disputed',
  'not-checked': 'not checked',
} as const;

/** The band's records for people who cannot see it: walls in order, each with its points, legs and openings. */
export function bandMirrorItems(
  doc: PlanDocument,
  fabric: Fabric,
  layout: BandLayout,
  drawings: readonly FaceDrawing[],
): MirrorItem[] {
  const items: MirrorItem[] = [];
  layout.faces.forEach(({ face, start }, i) => {
    const drawing = drawings[i];
    if (!drawing) return;
    const wall = faceHeading(fabric, face);
    for (const on of drawing.points) {
      if (on.ghost) continue;
      const name = `${on.point.label} ${POINT_KINDS[on.point.kind].name}`;
      items.push({
        ref: { table: 'points', id: on.point.id, part: null },
        label: `${name} on ${wall}, ${figure(on.at.u)} from the left, ${figure(on.at.z)} up`,
        x: start + on.at.u,
        y: -on.at.z,
      });
    }
    for (const opening of face.openings) {
      items.push({
        ref: { table: 'openings', id: opening.id, part: null },
        label: `${opening.kind} in ${wall}, ${figure(opening.u0)} to ${figure(opening.u1)} from the left`,
        x: start + (opening.u0 + opening.u1) / 2,
        y: -(opening.z0 + opening.z1) / 2,
      });
    }
    for (const run of drawing.runs) {
      const label = doc.runs.byId[run.run]?.label ?? run.run;
      for (const check of run.legs) {
        const on = legOnFace(face, check.leg);
        if (!on || on.far || check.leg.length < 1) continue;
        const out = Math.max(0, ...check.stretches.map((s) => s.outsideMm));
        const answer =
          check.answer === 'outside' ? `${ANSWERS.outside} by ${figure(out)} mm` : ANSWERS[check.answer];
        items.push({
          ref: { table: 'runs', id: run.run, part: `leg:${check.leg.stretch}` },
          label: `${label} on ${wall}, ${metres(check.leg.length)}, ${answer}`,
          x: start + (on.a.u + on.b.u) / 2,
          y: -(on.a.z + on.b.z) / 2,
        });
      }
    }
  });
  // A stretch that is two legs on one wall (through a partition) has one option: the keys must differ.
  const seen = new Set<string>();
  return items.filter(({ ref }) => {
    const key = `${ref.table}:${ref.id}:${ref.part ?? ''}`;
    return !seen.has(key) && seen.add(key);
  });
}

import { rectangle, text, type FaceMark } from './marks.ts';
import { uOfAlong } from '../../engine/fabric/lookup.ts';
import type { Face } from '../../engine/fabric/types.ts';
import type { PlanDocument, Thing } from '../../engine/model/document.ts';
import type { Mm } from '../../engine/model/units.ts';

/** The bare wall: surface, floor line, top line (true slope), ends, openings with their names. */
export function wallMarks(face: Face): FaceMark[] {
  const { top, length } = face;
  const first = top[0];
  const last = top[top.length - 1];
  if (!first || !last) return [];
  const marks: FaceMark[] = [
    { kind: 'area', look: 'wall', outline: [{ u: 0, z: 0 }, { u: length, z: 0 }, ...[...top].reverse()] },
  ];
  for (const o of face.openings) {
    marks.push({ kind: 'area', look: 'opening', outline: rectangle(o.u0, o.z0, o.u1, o.z1) });
    const middle = { u: (o.u0 + o.u1) / 2, z: (o.z0 + o.z1) / 2 };
    marks.push(text(middle, o.kind, 'small', { room: o.u1 - o.u0 }));
  }
  const floor = {
    kind: 'line',
    look: 'floor',
    points: [
      { u: 0, z: 0 },
      { u: length, z: 0 },
    ],
  } as const;
  marks.push(floor, { kind: 'line', look: 'top', points: top });
  marks.push({ kind: 'line', look: 'end', points: [{ u: 0, z: 0 }, first] });
  marks.push({ kind: 'line', look: 'end', points: [{ u: length, z: 0 }, last] });
  return marks;
}

const THING_NAMES: Partial<Record<Thing['kind'], string>> = {
  'no-cable': 'no cable',
  'hot-pipe': 'hot pipe',
  'gas-pipe': 'gas pipe',
};

/** Where a thing fixed to this face lies on it, u and z; null when it hangs on another face. */
export function thingSpan(face: Face, thing: Thing): { u0: Mm; u1: Mm; z0: Mm; z1: Mm } | null {
  const { place } = thing;
  if (place.on !== 'face') return null;
  const a = uOfAlong(face, place.wall, place.side, place.along0);
  const b = uOfAlong(face, place.wall, place.side, place.along1);
  if (a === null || b === null) return null;
  const u0 = Math.max(0, Math.min(a, b));
  const u1 = Math.min(face.length, Math.max(a, b));
  return u1 > u0 ? { u0, u1, z0: place.z0, z1: place.z1 } : null;
}

/** Units, radiators and the like that hang on this face, and the no-cable places. */
export function thingMarks(doc: PlanDocument, face: Face): FaceMark[] {
  return doc.things.order.flatMap((id): FaceMark[] => {
    const thing = doc.things.byId[id];
    const span = thing ? thingSpan(face, thing) : null;
    if (!thing || !span) return [];
    const outline = rectangle(span.u0, span.z0, span.u1, span.z1);
    const name = thing.name || (THING_NAMES[thing.kind] ?? thing.kind);
    const middle = { u: (span.u0 + span.u1) / 2, z: (span.z0 + span.z1) / 2 };
    return [
      { kind: 'area', look: thing.kind === 'no-cable' ? 'no-cable' : 'thing', outline },
      text(middle, name, 'small', { room: span.u1 - span.u0 }),
    ];
  });
}

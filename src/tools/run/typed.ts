import type { Aim } from './aimParts.ts';
import type { Draft } from './draft.ts';
import { facePlace, onFace } from './places.ts';
import { parseLength } from '../lengthText.ts';
import type { Place } from '../../engine/model/document.ts';
import type { Mm } from '../../engine/model/units.ts';
import type { ToolContext } from '../types.ts';

/** The place so many mm from `a` towards `b`, when both are on one face or in one void; else null. */
function towards(ctx: ToolContext, a: Place, b: Place, length: Mm): Place | null {
  if (a.on === 'face' && b.on === 'face') {
    for (const fabric of ctx.derived.fabrics.values()) {
      const from = onFace(fabric, a);
      const to = onFace(fabric, b);
      if (!from || !to || from.face.id !== to.face.id) continue;
      const d = Math.hypot(to.at.u - from.at.u, to.at.z - from.at.z);
      if (d < 1e-6) return null;
      const t = length / d;
      return facePlace(from.face, {
        u: from.at.u + (to.at.u - from.at.u) * t,
        z: from.at.z + (to.at.z - from.at.z) * t,
      });
    }
    return null;
  }
  if ((a.on === 'ceiling' || a.on === 'floor') && b.on === a.on && b.storey === a.storey) {
    const d = Math.hypot(b.x - a.x, b.y - a.y);
    if (d < 1e-6) return null;
    return { ...a, x: a.x + ((b.x - a.x) * length) / d, y: a.y + ((b.y - a.y) * length) / d };
  }
  return null;
}

/**
 * The aim with a typed length: the first stretch that a click would add on one face or in one void gets that length
 * and the click ends there. A problem in words when the text is no length or the pointer gives no direction.
 */
export function typedAim(
  ctx: ToolContext,
  draft: Draft,
  aim: Aim | null,
  text: string,
): { aim: Aim } | { problem: string } {
  const parsed = parseLength(text);
  if (!parsed.ok) return { problem: parsed.reason };
  if (!(parsed.mm > 0)) return { problem: 'A length is more than 0 mm.' };
  if (aim === null || aim.reach.refused !== null)
    return { problem: 'Point the way first, then type the length.' };
  const end = aim.end === null ? undefined : ctx.doc.points.byId[aim.end];
  const places = [...aim.reach.places, ...(end ? [end.place] : [])];
  let before = draft.path[draft.path.length - 1] as Place;
  for (let i = 0; i < places.length; i++) {
    const next = places[i] as Place;
    const at = towards(ctx, before, next, parsed.mm);
    if (at !== null) {
      const kept = [...places.slice(0, i), at];
      return { aim: { ...aim, end: null, reach: { places: kept, reasons: [], refused: null } } };
    }
    before = next;
  }
  return { problem: 'Point the way first, then type the length.' };
}

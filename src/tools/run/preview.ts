import type { Aim } from './aimParts.ts';
import { cornersOf, type Draft } from './draft.ts';
import { runAsDrawn } from './finish.ts';
import { mmText } from '../lengthText.ts';
import { resolveRun } from '../../engine/fabric/resolve.ts';
import type { FaceId } from '../../engine/fabric/types.ts';
import type { Run } from '../../engine/model/document.ts';
import type { FacePoint, Mm } from '../../engine/model/units.ts';
import { checkRun } from '../../engine/zones/checkRun.ts';
import type { Answer, LegCheck } from '../../engine/zones/types.ts';
import type { Preview, PreviewMark, Spot, ToolContext } from '../types.ts';

type Look = Extract<PreviewMark, { kind: 'line' }>['look'];
const LOOKS: Readonly<Record<Answer, Look>> = {
  inside: 'good',
  outside: 'bad',
  disputed: 'disputed',
  'not-checked': 'draft',
};

/** A run that is not in the document yet, as checked legs. */
export function checkDrawn(ctx: ToolContext, run: Run): readonly LegCheck[] {
  const { fabrics, zones } = ctx.derived;
  return checkRun({ doc: ctx.doc, fabrics, zones }, run, resolveRun(ctx.doc, fabrics, run)).legs;
}

/** Preview lines of checked legs on both surfaces: on walls by answer, in voids plain. */
export function legPreview(legs: readonly LegCheck[]): {
  plan: PreviewMark[];
  faces: Map<FaceId, PreviewMark[]>;
} {
  const plan: PreviewMark[] = [];
  const faces = new Map<FaceId, PreviewMark[]>();
  for (const check of legs) {
    const { a, b, face, fa, fb } = check.leg;
    if (Math.hypot(b.x - a.x, b.y - a.y) > 1) {
      plan.push({
        kind: 'line',
        look: LOOKS[check.answer],
        points: [
          { x: a.x, y: a.y },
          { x: b.x, y: b.y },
        ],
      });
    }
    if (face === null || fa === null || fb === null) continue;
    const at = (t: number): FacePoint => ({ u: fa.u + (fb.u - fa.u) * t, z: fa.z + (fb.z - fa.z) * t });
    const lines = check.stretches.map((s): PreviewMark => ({
      kind: 'line',
      look: LOOKS[s.answer],
      points: [at(s.t0), at(s.t1)],
    }));
    faces.set(face, [...(faces.get(face) ?? []), ...lines]);
  }
  return { plan, faces };
}

/** The run so far and what a click would add, on both surfaces, with the length of the leg that grows and of the whole. */
export function previewOf(ctx: ToolContext, draft: Draft, aim: Aim | null, spot: Spot | null): Preview {
  const adds = aim !== null && aim.reach.refused === null;
  const corners = [...cornersOf(draft), ...(adds ? aim.reach.places : [])];
  const end = adds ? aim.end : null;
  const legs =
    corners.length + (end === null ? 0 : 1) > 0
      ? checkDrawn(ctx, runAsDrawn(ctx, draft.from, end, corners))
      : [];
  const { plan, faces } = legPreview(legs);
  plan.push(...(aim?.plan ?? []));
  for (const [face, marks] of aim?.faces ?? []) faces.set(face, [...(faces.get(face) ?? []), ...marks]);
  for (const { leg } of legs) {
    if (leg.stretch < cornersOf(draft).length)
      plan.push({ kind: 'spot', at: { x: leg.b.x, y: leg.b.y }, look: 'handle' });
  }
  const words = spot && aim ? labelOf(ctx, aim, legs, cornersOf(draft).length) : '';
  if (spot && words !== '') {
    if (spot.surface === 'plan') plan.push({ kind: 'label', at: spot.at, text: words });
    else faces.set(spot.face, [...(faces.get(spot.face) ?? []), { kind: 'label', at: spot.at, text: words }]);
  }
  return { plan, faces };
}

/** "1 250 mm, 6.40 m in all", why it lies there, what it crosses and how far out of the zones it would be. */
function labelOf(ctx: ToolContext, aim: Aim, legs: readonly LegCheck[], drawn: number): string {
  if (aim.reach.refused !== null) return aim.reach.refused;
  const total = sum(legs);
  const grown = legs.filter((c) => c.leg.stretch >= drawn && c.leg.length > 0.5);
  const last =
    grown.findLast((c) => c.leg.kind !== 'riser' && c.leg.kind !== 'through') ?? grown[grown.length - 1];
  const lines = last ? [`${mmText(last.leg.length)}, ${(total / 1000).toFixed(2)} m in all`] : [];
  const out = Math.max(0, ...grown.flatMap((c) => c.stretches.map((s) => s.outsideMm)));
  const askew = grown.some((c) => c.offLevel > 0) ? ['neither level nor plumb'] : [];
  for (const id of new Set(grown.flatMap((c) => c.crossings.map((x) => x.opening)))) {
    lines.push(`crosses the ${ctx.doc.openings.byId[id]?.kind ?? 'opening'}`);
  }
  if (out > 0) lines.push(`${Math.round(out)} mm outside the zones`);
  return [...new Set([...lines, ...aim.reach.reasons, ...askew])].join('\n');
}

function sum(legs: readonly LegCheck[]): Mm {
  return legs.reduce((total, c) => total + c.leg.length, 0);
}

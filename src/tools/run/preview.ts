import { lengthOf, spaceOf, type Draft } from './draft.ts';
import type { Aim } from './aim.ts';
import { onFace } from './places.ts';
import { mmText } from '../lengthText.ts';
import type { Fabric, FaceId } from '../../engine/fabric/types.ts';
import type { Place } from '../../engine/model/document.ts';
import type { FacePoint } from '../../engine/model/units.ts';
import type { Preview, PreviewMark, Spot, ToolContext } from '../types.ts';

type Line = Extract<PreviewMark, { kind: 'line' }>;

/**
 * The run so far and what a click would add, on both surfaces, with the length of the leg that grows and of the whole.
 */
export function previewOf(ctx: ToolContext, draft: Draft, aim: Aim | null, spot: Spot | null): Preview {
  const end = aim?.end ? ctx.doc.points.byId[aim.end] : undefined;
  const added = aim && aim.reach.refused === null ? [...aim.reach.places, ...(end ? [end.place] : [])] : [];
  const path = [...draft.path, ...added];
  const space = spaceOf(ctx.doc, path, end !== undefined);
  const before = spaceOf(ctx.doc, draft.path, false);
  const plan: PreviewMark[] = [
    line(
      before.map(({ x, y }) => ({ x, y })),
      'good',
    ),
    line(
      space.slice(Math.max(0, before.length - 1)).map(({ x, y }) => ({ x, y })),
      'draft',
    ),
    ...(aim?.plan ?? []),
  ];
  for (const place of before.slice(1))
    plan.push({ kind: 'spot', at: { x: place.x, y: place.y }, look: 'handle' });
  const faces = new Map<FaceId, PreviewMark[]>();
  for (const [face, marks] of aim?.faces ?? []) faces.set(face, [...marks]);
  addFaceLines(ctx, path, draft.path.length - 1, faces);

  const words = labelOf(space, before.length, aim);
  if (spot && words !== '') {
    if (spot.surface === 'plan') plan.push({ kind: 'label', at: spot.at, text: words });
    else faces.set(spot.face, [...(faces.get(spot.face) ?? []), { kind: 'label', at: spot.at, text: words }]);
  }
  return { plan: plan.filter((m) => m.kind !== 'line' || m.points.length > 1), faces };
}

const line = (points: Line['points'], look: Line['look']): PreviewMark => ({ kind: 'line', points, look });

function labelOf(space: ReturnType<typeof spaceOf>, drawn: number, aim: Aim | null): string {
  if (aim === null) return '';
  if (aim.reach.refused !== null) return aim.reach.refused;
  const total = lengthOf(space);
  const leg = lengthOf(space, space.length - 2);
  const first = space.length > drawn ? `${mmText(leg)}, ${(total / 1000).toFixed(2)} m in all` : '';
  return [first, ...aim.reach.reasons].filter((w) => w !== '').join('\n');
}

/** Face stretches, and the plumb parts on the face of stretches that leave it for a void. */
function addFaceLines(
  ctx: ToolContext,
  path: readonly Place[],
  drawn: number,
  faces: Map<FaceId, PreviewMark[]>,
): void {
  const fabrics = [...ctx.derived.fabrics.values()];
  const find = (place: Place) => {
    for (const fabric of fabrics) {
      const on = onFace(fabric, place);
      if (on) return { fabric, on };
    }
    return null;
  };
  for (let i = 1; i < path.length; i++) {
    const a = path[i - 1] as Place;
    const b = path[i] as Place;
    const fa = find(a);
    const fb = find(b);
    const look = i <= drawn ? 'good' : 'draft';
    const add = (face: FaceId, points: FacePoint[]) =>
      faces.set(face, [...(faces.get(face) ?? []), line(points, look)]);
    if (fa && fb && fa.on.face.id === fb.on.face.id) add(fa.on.face.id, [fa.on.at, fb.on.at]);
    const off =
      fa && !fb
        ? { on: fa.on, other: b, fabric: fa.fabric }
        : fb && !fa
          ? { on: fb.on, other: a, fabric: fb.fabric }
          : null;
    if (off === null || (off.other.on !== 'ceiling' && off.other.on !== 'floor')) continue;
    add(off.on.face.id, [off.on.at, { u: off.on.at.u, z: outZ(ctx, off.fabric, off.other.on) }]);
  }
}

/** Cable height of a void above the storey's floor. */
function outZ(ctx: ToolContext, fabric: Fabric, kind: 'ceiling' | 'floor'): number {
  const storey = ctx.doc.storeys.byId[fabric.storey];
  if (!storey) return 0;
  return kind === 'ceiling' ? storey.ceilingHeight + storey.ceiling.cableRise : -storey.floor.cableDrop;
}

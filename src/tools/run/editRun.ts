import { dragGrab } from './dragGrab.ts';
import { cornerOnSurface, grabAt, selectedRuns, type Grab } from './grab.ts';
import { facePlace } from './places.ts';
import { insertCorner, removeCorner } from '../../document/commands/runCorners.ts';
import { together } from '../../document/transact.ts';
import type { Command } from '../../document/types.ts';
import { movedFar } from '../kit.ts';
import type { FaceId } from '../../engine/fabric/types.ts';
import type { Place } from '../../engine/model/document.ts';
import type { ScreenPoint } from '../../engine/model/units.ts';
import type { Preview, PreviewMark, Ref, Spot, ToolContext, ToolEvent, ToolStep } from '../types.ts';

/** A hold on a leg, corner or point: pressed and not yet moved, then dragged. Null: nothing held any more. */
export type RunEditState = {
  readonly kind: 'edit-pressed' | 'edit-dragging';
  readonly grab: Grab;
  readonly from: Spot;
  readonly screen: ScreenPoint;
};

const HINTS = {
  corner: 'Drag the corner; its legs stay level, plumb and square. Alt moves it alone.',
  stretch: 'Drag the leg sideways; its neighbours follow.',
  point: 'Drag the point along the wall or up and down. Alt: no snapping.',
} as const;

/**
 * For the select tool: what a press on either surface takes hold of, when it is a handle of a selected run or a point
 * on a wall. Null leaves the press to the select tool.
 */
export function runEditStart(event: ToolEvent, ctx: ToolContext): RunEditState | null {
  if (event.type !== 'down' || event.shift || event.ctrl) return null;
  const grab = grabAt(ctx, event.spot);
  return grab && { kind: 'edit-pressed', grab, from: event.spot, screen: event.screen };
}

/**
 * One event of the hold. The command comes with the release; `state: null` gives the tool back. A press let go without
 * moving selects what was under it: the run's part, or the point.
 */
export function runEditStep(
  state: RunEditState,
  event: ToolEvent,
  ctx: ToolContext,
): ToolStep<RunEditState | null> {
  const hint = HINTS[state.grab.kind];
  const rest = (more: Partial<ToolStep<null>> = {}): ToolStep<null> => ({
    state: null,
    preview: null,
    hint: '',
    ...more,
  });
  if (event.type === 'cancel' || (event.type === 'key' && event.key === 'Escape')) return rest();
  if (event.type === 'move' || event.type === 'up') {
    const far = movedFar(event.screen, state.screen);
    if (state.kind === 'edit-pressed' && !far) {
      if (event.type === 'up') return rest({ select: [refOf(state.grab)] });
      return { state, preview: null, hint };
    }
    const drag = dragGrab(ctx, state.grab, state.from, event.spot, event.alt);
    if (event.type === 'up')
      return rest({ ...(drag.command ? { command: drag.command } : {}), select: [wholeOf(state.grab)] });
    return { state: { ...state, kind: 'edit-dragging' }, preview: drag.preview, hint };
  }
  return { state, preview: null, hint };
}

function refOf(grab: Grab): Ref {
  if (grab.kind === 'point') return { table: 'points', id: grab.point, part: null };
  return {
    table: 'runs',
    id: grab.run,
    part: grab.kind === 'corner' ? `corner:${grab.corner}` : `leg:${grab.stretch}`,
  };
}

/** After a drag a run's parts may have other numbers: the run as a whole stays selected. */
function wholeOf(grab: Grab): Ref {
  return grab.kind === 'point' ? refOf(grab) : { table: 'runs', id: grab.run, part: null };
}

/** A double click on a leg of a selected run puts a corner there. Null where there is none. */
export function runEditDouble(spot: Spot, ctx: ToolContext): Command | null {
  const grab = grabAt(ctx, spot);
  if (grab?.kind !== 'stretch') return null;
  const { leg } = grab;
  let place: Place | null = null;
  if (spot.surface === 'face' && leg.fa && leg.fb) {
    const [du, dz] = [leg.fb.u - leg.fa.u, leg.fb.z - leg.fa.z];
    const t = ((spot.at.u - leg.fa.u) * du + (spot.at.z - leg.fa.z) * dz) / (du * du + dz * dz || 1);
    const k = Math.min(1, Math.max(0, t));
    for (const fabric of ctx.derived.fabrics.values()) {
      const face = fabric.faces.get(spot.face);
      if (face) place = facePlace(face, { u: leg.fa.u + du * k, z: leg.fa.z + dz * k });
    }
  } else if (spot.surface === 'plan' && (leg.kind === 'ceiling' || leg.kind === 'floor')) {
    const [dx, dy] = [leg.b.x - leg.a.x, leg.b.y - leg.a.y];
    const t = ((spot.at.x - leg.a.x) * dx + (spot.at.y - leg.a.y) * dy) / (dx * dx + dy * dy || 1);
    const k = Math.min(1, Math.max(0, t));
    place = { on: leg.kind, storey: leg.storey, x: leg.a.x + dx * k, y: leg.a.y + dy * k };
  }
  return place && insertCorner(grab.run, grab.stretch, place);
}

/** Delete with corners selected takes those out (their neighbours are joined straight). Null when none is. */
export function runEditDelete(ctx: ToolContext): Command | null {
  const corners = ctx.session.selection.flatMap((ref) => {
    const n = ref.table === 'runs' && ref.part?.startsWith('corner:') ? Number(ref.part.slice(7)) : NaN;
    return Number.isInteger(n) ? [{ id: ref.id, n }] : [];
  });
  if (corners.length === 0) return null;
  // From the last backwards, so that the numbers of the others still hold.
  corners.sort((a, b) => b.n - a.n);
  return together(
    corners.length === 1 ? 'Remove corner' : 'Remove corners',
    corners.map(({ id, n }) => removeCorner(id, n)),
  );
}

/** Square handles on the corners of selected runs, on the plan and on every wall. */
export function runEditHandles(ctx: ToolContext): Preview {
  const plan: PreviewMark[] = [];
  const faces = new Map<FaceId, PreviewMark[]>();
  for (const run of selectedRuns(ctx)) {
    run.corners.forEach((place, i) => {
      const onPlan =
        place.on === 'face' ? null : cornerOnSurface(ctx, run, i, { surface: 'plan', at: { x: 0, y: 0 } });
      if (onPlan) plan.push({ kind: 'spot', look: 'handle', at: { x: onPlan[0], y: onPlan[1] } });
      if (place.on !== 'face') return;
      for (const { leg } of ctx.derived.runs.get(run.id)?.legs ?? []) {
        if (leg.face === null) continue;
        const at = cornerOnSurface(ctx, run, i, { surface: 'face', face: leg.face, at: { u: 0, z: 0 } });
        if (!at) continue;
        faces.set(leg.face, [
          ...(faces.get(leg.face) ?? []),
          { kind: 'spot', look: 'handle', at: { u: at[0], z: at[1] } },
        ]);
        return;
      }
    });
  }
  return { plan, faces };
}

import { voidAxis, type Head, type Reach, type VoidKind, type VoidWay } from './reach.ts';
import type { Fabric, Face, FaceId } from '../../engine/fabric/types.ts';
import type { Id, Place, Point } from '../../engine/model/document.ts';
import type { PreviewMark, ToolContext } from '../types.ts';

/** What the pointer is at: what a click adds, the point it would end on, and what to show. */
export interface Aim {
  readonly reach: Reach;
  readonly end: Id | null;
  /** The face the run would then be on or above, to show in the band. */
  readonly face: FaceId | null;
  readonly plan: readonly PreviewMark[];
  readonly faces: ReadonlyMap<FaceId, readonly PreviewMark[]>;
}

/** How the person holds the keys. */
export interface Grip {
  /** Alt: diagonals allowed. */
  readonly free: boolean;
  /** F: the elbow the other way. */
  readonly flip: boolean;
}

/** An aim with nothing of its own to show, unless given. */
export const aimed = (
  reach: Reach,
  end: Id | null,
  face: Face | null,
  more: Partial<Pick<Aim, 'plan' | 'faces'>> = {},
): Aim => ({
  reach,
  end,
  face: face?.id ?? null,
  plan: [],
  faces: new Map(),
  ...more,
});

/** What every part of the aiming looks at: the storey, how the run got here, where it is, the point it is at. */
export interface Aiming {
  readonly ctx: ToolContext;
  readonly fabric: Fabric;
  readonly path: readonly Place[];
  readonly head: Head;
  readonly goal: Point | null;
  readonly grip: Grip;
}

/** Why a void cannot be used on this storey, or null when it can. */
export function voidRefusal(ctx: ToolContext, fabric: Fabric, kind: VoidKind): string | null {
  const storey = ctx.doc.storeys.byId[fabric.storey];
  if (storey?.[kind].kind !== 'solid') return null;
  return kind === 'ceiling'
    ? 'The ceiling is solid: no void above it.'
    : 'The floor is solid: no void under it.';
}

/** How the run goes in the void: square to what came before. */
export function wayOf({ fabric, path, head, grip }: Aiming, kind: VoidKind): VoidWay {
  return { kind, axis: voidAxis(fabric, path, head), ...grip };
}

/** A path that ends on a point: the point itself stands for the last place. */
export function endOn(reach: Reach, point: Point, face: Face | null): Aim {
  const places = reach.places.slice(0, -1);
  return aimed({ ...reach, places, reasons: [point.label, ...reach.reasons] }, point.id, face);
}

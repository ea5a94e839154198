import { editTracing } from '../../document/commands/tracings.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import { mmText } from '../lengthText.ts';
import { isPointer, planPreview, planSpot } from '../kit.ts';
import { PLACES } from '../types.ts';
import type { Tool, ToolContext, ToolStep } from '../types.ts';
import { LOCKED, NO_PICTURE, pictureInHand, pictureOutline } from './pictureFrame.ts';

export type PictureMoveState =
  { readonly kind: 'waiting' } | { readonly kind: 'dragging'; readonly from: PlanPoint };

const HINT = 'Drag the tracing to where it belongs. Arrow keys move it 10 mm, with Shift 100 mm.';
const STEPS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** Moves the tracing under the plan; what is traced stays. */
export const pictureMoveTool: Tool<PictureMoveState> = {
  id: 'picture-move',
  manner: PLACES,
  busy: (state) => state.kind === 'dragging',
  start: (ctx) => rest(ctx),
  step(state, event, ctx) {
    const picture = pictureInHand(ctx);
    if (event.type === 'key') {
      if (event.key === 'Escape') {
        return state.kind === 'dragging' ? rest(ctx) : { ...rest(ctx), session: { tool: 'select' } };
      }
      const step = STEPS[event.key];
      if (!picture || !step) return { ...rest(ctx), state };
      const by = event.shift ? 100 : 10;
      const fields = { x: picture.lies.x + step[0] * by, y: picture.lies.y + step[1] * by };
      return { ...rest(ctx), command: editTracing(picture.id, fields) };
    }
    const at = planSpot(event);
    if (!isPointer(event) || at === null || event.type === 'double') return rest(ctx);
    if (state.kind === 'waiting') {
      if (event.type !== 'down') return rest(ctx);
      if (!picture) return { ...rest(ctx), notice: NO_PICTURE };
      if (picture.locked) return { ...rest(ctx), notice: LOCKED };
      return { ...rest(ctx), state: { kind: 'dragging', from: at } };
    }
    if (!picture) return rest(ctx);
    const x = picture.lies.x + at.x - state.from.x;
    const y = picture.lies.y + at.y - state.from.y;
    if (event.type === 'up') {
      const still = Math.hypot(at.x - state.from.x, at.y - state.from.y) * ctx.scale < 2;
      return still ? rest(ctx) : { ...rest(ctx), command: editTracing(picture.id, { x, y }) };
    }
    const text = `${mmText(at.x - state.from.x)} across, ${mmText(at.y - state.from.y)} down`;
    return {
      state,
      preview: planPreview([
        pictureOutline({ ...picture, lies: { ...picture.lies, x, y } }),
        { kind: 'label', at, text },
      ]),
      hint: HINT,
      ask: null,
    };
  },
};

function rest(ctx: ToolContext): ToolStep<PictureMoveState> {
  return {
    state: { kind: 'waiting' },
    preview: null,
    hint: pictureInHand(ctx) ? HINT : NO_PICTURE,
    ask: null,
  };
}

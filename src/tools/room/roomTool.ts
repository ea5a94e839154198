import { addRoomTag, editRoomTag } from '../../document/commands/rooms.ts';
import { roomAt } from '../../engine/fabric/lookup.ts';
import type { Id, RoomTag } from '../../engine/model/document.ts';
import type { PlanPoint } from '../../engine/model/units.ts';
import { planPreview, planSpot, shapesOf } from '../kit.ts';
import { PLACES } from '../types.ts';
import type { PreviewMark, Tool, ToolContext, ToolStep } from '../types.ts';

export type RoomState =
  | { readonly kind: 'waiting' }
  /** A room was clicked; its name is awaited. */
  | { readonly kind: 'naming'; readonly at: PlanPoint; readonly tag: Id | null };

const WAITING: RoomState = { kind: 'waiting' };
const HINT = 'Click inside a room, then type its name and press Enter.';

/** What a room is most likely used for, by its name: a start only, and it can be changed in the list. */
export function likelyUse(name: string): RoomTag['use'] {
  const words = name.toLowerCase();
  const uses: readonly (readonly [RegExp, RoomTag['use']])[] = [
    [/kitchen|pantry|cook/, 'kitchen'],
    [/bath|shower|en[\s-]?suite|wet[\s-]?room|wash[\s-]?room/, 'bathroom'],
    [/hall|lobby|landing|stair|corridor|porch|passage/, 'circulation'],
    [/utility|plant|boiler|store|\bwc\b|toilet|cupboard|laundry/, 'utility'],
    [/work|studio|kiln|glaz|garage|shed|throwing/, 'workshop'],
    [/bed|living|lounge|dining|sitting|study|room|snug/, 'habitable'],
  ];
  return uses.find(([pattern]) => pattern.test(words))?.[1] ?? 'other';
}

/** Names of rooms: a click asks for the name of the room there, or a new name where it has one. */
export const roomTool: Tool<RoomState> = {
  id: 'room-name',
  manner: PLACES,
  busy: (state) => state.kind === 'naming',
  start: () => rest(),
  step(state, event, ctx) {
    if (event.type === 'cancel') return rest();
    if (event.type === 'key') {
      if (event.key !== 'Escape') return state.kind === 'naming' ? asking(state, ctx) : rest();
      return state.kind === 'naming' ? rest() : { ...rest(), session: { tool: 'select' } };
    }
    if (event.type === 'typed') return state.kind === 'naming' ? named(state, event.text, ctx) : rest();
    const at = planSpot(event);
    if (at === null) return state.kind === 'naming' ? asking(state, ctx) : rest();
    if (event.type !== 'up') return state.kind === 'naming' ? asking(state, ctx) : hovering(at, ctx);
    const room = shapesOf(ctx).rooms.find((r) => r.room === roomUnder(at, ctx));
    const spot = room && !room.tag ? room.at : at;
    if (!room) return { ...rest(), notice: 'There is no closed room there: its walls must meet all round.' };
    return asking({ kind: 'naming', at: spot, tag: room.tag?.id ?? null }, ctx);
  },
};

function roomUnder(at: PlanPoint, ctx: ToolContext) {
  const { fabric } = shapesOf(ctx);
  return fabric ? roomAt(fabric, at) : null;
}

function rest(): ToolStep<RoomState> {
  return { state: WAITING, preview: null, hint: HINT, ask: null };
}

function outline(at: PlanPoint, ctx: ToolContext): PreviewMark[] {
  const room = roomUnder(at, ctx);
  return room ? [{ kind: 'line', points: room.outline, look: 'snap', closed: true }] : [];
}

function hovering(at: PlanPoint, ctx: ToolContext): ToolStep<RoomState> {
  return { ...rest(), preview: planPreview(outline(at, ctx)) };
}

function asking(state: Extract<RoomState, { kind: 'naming' }>, ctx: ToolContext): ToolStep<RoomState> {
  const now = state.tag === null ? '' : (ctx.doc.roomTags.byId[state.tag]?.name ?? '');
  const marks: PreviewMark[] = [...outline(state.at, ctx), { kind: 'spot', at: state.at, look: 'draft' }];
  return {
    state,
    preview: planPreview(marks),
    hint: 'Type the name of the room and press Enter.',
    ask: { label: 'Room', value: now, focus: true },
  };
}

function named(
  state: Extract<RoomState, { kind: 'naming' }>,
  text: string,
  ctx: ToolContext,
): ToolStep<RoomState> {
  const name = text.trim();
  if (name === '') return { ...asking(state, ctx), notice: 'A name has at least one letter.' };
  if (state.tag !== null) {
    const now = ctx.doc.roomTags.byId[state.tag];
    const use = now?.use === 'other' ? likelyUse(name) : now?.use;
    return { ...rest(), command: editRoomTag(state.tag, { name, ...(use ? { use } : {}) }) };
  }
  const command = addRoomTag({ storey: ctx.session.storey, ...state.at, name, use: likelyUse(name) });
  const outcome = command.apply(ctx.doc);
  const made = outcome.ok ? outcome.made : [];
  return { ...rest(), command, select: made.map((id) => ({ table: 'roomTags', id, part: null })) };
}

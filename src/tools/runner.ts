import type { DocumentStore } from '../document/types.ts';
import type { DerivedSource, Session, ToolRunner } from './app.ts';
import type { DrawingSource } from './drawings.ts';
import { PLACES } from './types.ts';
import type {
  Manner,
  Preview,
  SessionState,
  Spot,
  ToolContext,
  ToolEvent,
  ToolId,
  ToolStep,
} from './types.ts';

/** Any tool: what its state is, only the tool knows. */
export interface AnyTool {
  readonly id: ToolId;
  readonly manner: Manner;
  readonly start: (ctx: ToolContext) => ToolStep<unknown>;
  readonly step: (state: never, event: ToolEvent, ctx: ToolContext) => ToolStep<unknown>;
  readonly busy: (state: never) => boolean;
  readonly takes?: (event: ToolEvent) => boolean;
}
export type ToolTable = Readonly<Partial<Record<ToolId, AnyTool>>>;
/** Tools that are fetched when they are first taken in hand. */
export type LaterTools = Readonly<Partial<Record<ToolId, () => Promise<AnyTool>>>>;

export interface RunnerParts {
  readonly store: DocumentStore;
  readonly session: Session;
  readonly derived: DerivedSource;
  readonly drawings?: DrawingSource | undefined;
  readonly tools: ToolTable;
  readonly later?: LaterTools;
  /** Clock for the notices, ms. */
  readonly now: () => number;
}

/** Screen pixels around a pointer and around a finger in which things are picked. */
const POINTER_REACH = 8;
const FINGER_REACH = 22;

type Ask = { readonly label: string; readonly value: string; readonly focus?: boolean } | null;

/**
 * Runs the tool the session names. Each step's command is done once; a refusal becomes a notice and the tool starts
 * afresh, so no half-made gesture outlives it. A change of the document from elsewhere (undo, another panel) or of
 * the tool cancels what is under way. What is done with a tool before it has been fetched waits for it, in its order.
 */
export function createRunner(parts: RunnerParts): ToolRunner {
  const { store, session, derived, now } = parts;
  const tools: Partial<Record<ToolId, AnyTool>> = { ...parts.tools };
  const listeners = new Set<() => void>();
  let toolId: ToolId = session.getState().tool;
  let state: unknown = null;
  let started = false;
  let preview: Preview | null = null;
  let ask: Ask = null;
  let typed: string | null = null;
  /** Where the pointer was last, for showing at once what typing changes. */
  let lastMove: Extract<ToolEvent, { spot: Spot }> | null = null;
  let scale = 0.1;
  let reach = POINTER_REACH;
  let inside = false;
  let reselected = false;
  /** Done with this tool before it was there. */
  let waiting: { readonly event: ToolEvent; readonly scale: number }[] = [];
  const fetching = new Set<ToolId>();

  const tell = (): void => {
    for (const listener of [...listeners]) listener();
  };
  const context = (): ToolContext => ({
    doc: store.getState().doc,
    derived: derived.get().derived,
    session: session.getState(),
    scale,
    tolerance: reach,
    typed,
    drawings: parts.drawings,
  });
  const say = (text: string, tone: 'plain' | 'bad' | 'good'): Partial<SessionState> => ({
    notice: { text, tone, at: now() },
  });

  /** Takes a step's outcome. Returns false when its command was refused. */
  function take(step: ToolStep<unknown>): boolean {
    state = step.state;
    preview = step.preview;
    if (step.ask !== undefined) ask = step.ask;
    let patch: Partial<SessionState> = { hint: step.hint };
    let agreed = true;
    if (step.notice !== undefined) patch = { ...patch, ...say(step.notice, 'plain') };
    if (step.command) {
      const outcome = store.dispatch(step.command);
      agreed = outcome.ok;
      if (!outcome.ok) patch = { ...patch, ...say(outcome.reason, 'bad') };
      else if (outcome.note !== null) patch = { ...patch, ...say(outcome.note, 'plain') };
    }
    if (agreed && step.select) patch = { ...patch, selection: step.select };
    if (agreed && step.session) patch = { ...patch, ...step.session };
    session.set(patch);
    return agreed;
  }

  function start(): void {
    if (toolId !== session.getState().tool) {
      lastMove = null;
      waiting = [];
    }
    toolId = session.getState().tool;
    const tool = tools[toolId];
    state = null;
    typed = null;
    preview = null;
    ask = null;
    started = tool !== undefined;
    if (tool) take(tool.start(context()));
    else {
      session.set({ hint: '' });
      fetchTool(toolId);
    }
  }

  /** Is the tool whole, and not merely what it does at rest? */
  const isWhole = (id: ToolId): boolean => tools[id] !== undefined && tools[id].takes === undefined;

  function fetchTool(id: ToolId): void {
    const load = parts.later?.[id];
    if (!load || isWhole(id) || fetching.has(id)) return;
    fetching.add(id);
    load().then(
      (tool) => {
        fetching.delete(id);
        tools[id] = tool;
        if (toolId === id) catchUp();
      },
      () => {
        fetching.delete(id);
        if (toolId !== id) return;
        waiting = [];
        session.set(say('This tool could not be fetched. Load the page again.', 'bad'));
      },
    );
  }

  /** The tool in hand has just arrived: what was done with it meanwhile is done now. */
  function catchUp(): void {
    const missed = waiting;
    waiting = [];
    enter(start);
    for (const each of missed) enter(() => hear(each.event, each.scale));
  }

  function hear(event: ToolEvent, atScale: number): void {
    scale = atScale;
    if ('touch' in event) reach = event.touch ? FINGER_REACH : POINTER_REACH;
    const tool = tools[toolId];
    if (!tool || waiting.length > 0 || tool.takes?.(event) === false) {
      // Of a way only its end counts, so that a long wait does not fill the list.
      if (event.type === 'move' && waiting.at(-1)?.event.type === 'move') waiting.pop();
      waiting.push({ event, scale: atScale });
      fetchTool(toolId);
      return;
    }
    if (!started) start();
    if (event.type === 'typed') ask = ask && { ...ask, value: event.text };
    if ('spot' in event) lastMove = { ...event, type: 'move' };
    // An entry says all itself; a click is the last to hear of what was typed for it.
    if (event.type === 'typed') typed = null;
    const agreed = take(tool.step(state as never, event, context()));
    if (event.type === 'up' || event.type === 'cancel') typed = null;
    if (!agreed) start();
  }

  /** One entry at a time: what a step causes (selection, tool change) is heard after it, never inside it. */
  function enter(work: () => void): void {
    if (inside) return;
    inside = true;
    try {
      work();
      if (session.getState().tool !== toolId) start();
      // What a tool for picking says at rest and shows is about what is selected now, however that came to be.
      if (reselected && manner().pointer === 'pick' && !busy()) start();
      reselected = false;
    } finally {
      inside = false;
    }
    tell();
  }

  const busy = (): boolean => started && tools[toolId]?.busy(state as never) === true;
  const manner = (): Manner => tools[session.getState().tool]?.manner ?? PLACES;
  const drop = (): void => {
    const tool = tools[toolId];
    // What a cancelled tool wishes of the session (another tool, say) is not heard: the person has already chosen.
    if (tool && started) {
      const { session: _wishes, ...step } = tool.step(state as never, { type: 'cancel' }, context());
      take(step);
    }
    start();
  };

  let selected = session.getState().selection;
  session.subscribe((next) => {
    reselected ||= next.selection !== selected;
    selected = next.selection;
    if (next.tool !== toolId) enter(drop);
    else if (reselected) enter(() => undefined);
  });
  store.subscribe(() => {
    if (!inside && busy()) enter(drop);
  });
  enter(start);

  return {
    event: (event, atScale) => enter(() => hear(event, atScale)),
    typing(text) {
      enter(() => {
        if (text === typed) return;
        typed = text;
        const tool = tools[toolId];
        if (tool && started && lastMove !== null) take(tool.step(state as never, lastMove, context()));
      });
    },
    typed: () => typed,
    preview: () => preview,
    ask: () => ask,
    busy,
    manner,
    fetchLater() {
      for (const id of Object.keys(parts.later ?? {}) as ToolId[]) fetchTool(id);
    },
    cancel: () => enter(drop),
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

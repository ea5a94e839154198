import { describe, expect, test } from 'vitest';
import { createStore } from '../../src/document/store.ts';
import { editJob } from '../../src/document/commands/job.ts';
import { newDocument } from '../../src/engine/model/defaults.ts';
import type { Derived } from '../../src/engine/derive/types.ts';
import { createRunner, type LaterTools, type ToolTable } from '../../src/tools/runner.ts';
import { createSession, startSession } from '../../src/tools/session.ts';
import { PICKS, PLACES, type Tool, type ToolEvent } from '../../src/tools/types.ts';

type Pressing = { kind: 'idle' } | { kind: 'pressed'; heard: number };

const EMPTY: Derived = {
  fabrics: new Map(),
  zones: new Map(),
  runs: new Map(),
  findings: [],
  takeOff: { scale: { state: 'typed' }, runs: new Map(), cables: [], sundries: [] },
  drums: [],
};
const idle = { state: { kind: 'idle' }, preview: null, hint: 'press' } as const;

/** Presses, counts what it hears, and on release gives the plan the title it is told to. */
const titler = (title: string): Tool<Pressing> => ({
  id: 'wall',
  manner: PLACES,
  busy: (state) => state.kind === 'pressed',
  start: () => idle,
  step(state, event) {
    if (event.type === 'cancel') return idle;
    if (event.type === 'down')
      return {
        state: { kind: 'pressed', heard: 0 },
        preview: { plan: [], faces: new Map() },
        hint: 'let go',
        ask: { label: 'Length', value: '' },
      };
    if (event.type === 'up' && state.kind === 'pressed')
      return { ...idle, ask: null, command: editJob({ title }), session: { snapping: false } };
    return { state, preview: null, hint: 'let go' };
  },
});

const at = (type: 'down' | 'move' | 'up'): ToolEvent => ({
  type,
  spot: { surface: 'plan', at: { x: 0, y: 0 } },
  screen: { px: 0, py: 0 },
  shift: false,
  alt: false,
  ctrl: false,
  touch: false,
});

function bench(tools: ToolTable, later: LaterTools = {}) {
  const doc = newDocument('first');
  const store = createStore(doc);
  const session = createSession({ ...startSession(doc), tool: 'wall' });
  const derived = { get: () => ({ derived: EMPTY, rev: 0 }), subscribe: () => () => undefined };
  const runner = createRunner({ store, session, derived, tools, later, now: () => 7 });
  return { store, session, runner };
}

describe('the tool runner', () => {
  test('a gesture is one command, done once, and then the tool is at rest', () => {
    const { store, session, runner } = bench({ wall: titler('second') });
    expect(session.getState().hint).toBe('press');
    runner.event(at('down'), 0.1);
    expect(runner.busy()).toBe(true);
    expect(runner.ask()).toEqual({ label: 'Length', value: '' });
    expect(runner.preview()).not.toBeNull();
    runner.event(at('up'), 0.1);
    expect(runner.busy()).toBe(false);
    expect(runner.ask()).toBeNull();
    expect(store.getState().doc.job.title).toBe('second');
    expect(store.getState().rev).toBe(1);
    expect(session.getState().snapping).toBe(false);
    runner.event(at('up'), 0.1);
    expect(store.getState().rev).toBe(1);
  });

  test('what is typed is shown at once where the pointer was, used by one click, and gone with the tool', () => {
    const heard: (string | null | undefined)[] = [];
    const echo: Tool<Pressing> = {
      ...titler('x'),
      step: (state, event, ctx) => {
        heard.push(`${event.type} ${ctx.typed}`);
        return { state, preview: null, hint: '', ask: { label: 'Length', value: '' } };
      },
    };
    const { session, runner } = bench({ wall: echo, opening: echo });
    runner.event(at('move'), 0.1);
    runner.typing('1');
    runner.typing('19');
    runner.event(at('down'), 0.1);
    runner.event(at('up'), 0.1);
    expect(runner.typed()).toBeNull();
    runner.event(at('move'), 0.1);
    expect(heard).toEqual(['move null', 'move 1', 'move 19', 'down 19', 'up 19', 'move null']);
    runner.typing('7');
    session.set({ tool: 'opening' });
    expect(runner.typed()).toBeNull();
  });

  test('the select tool at rest speaks of what is selected now, whoever selected it', () => {
    const counting: Tool<Pressing> = {
      ...titler('x'),
      manner: PICKS,
      start: (ctx) => ({ ...idle, hint: `${ctx.session.selection.length} selected` }),
    };
    const { session, runner } = bench({ wall: titler('y'), select: counting });
    session.set({ tool: 'select' });
    const ref = (id: string) => ({ table: 'points' as const, id, part: null });
    session.set({ selection: [ref('p1'), ref('p2')] });
    expect(session.getState().hint).toBe('2 selected');
    session.set({ selection: [] });
    expect(session.getState().hint).toBe('0 selected');
    // A gesture under way keeps its own words.
    runner.event(at('down'), 0.1);
    session.set({ selection: [ref('p1')] });
    expect(session.getState().hint).toBe('let go');
  });

  test('a refusal is said, changes nothing, and what the step wished for is not done', () => {
    const refusing: Tool<Pressing> = {
      ...titler('x'),
      step: () => ({
        ...idle,
        command: editJob({ ambient: 9999 }),
        select: [{ table: 'points', id: 'p1', part: null }],
        session: { snapping: false },
      }),
    };
    const { store, session, runner } = bench({ wall: refusing });
    runner.event(at('down'), 0.1);
    expect(store.getState().rev).toBe(0);
    expect(session.getState().notice).toMatchObject({ tone: 'bad', at: 7 });
    expect(session.getState().selection).toEqual([]);
    expect(session.getState().snapping).toBe(true);
  });

  test('undo in mid-gesture gives the gesture up', () => {
    const { store, runner } = bench({ wall: titler('second') });
    store.dispatch(editJob({ title: 'other' }));
    runner.event(at('down'), 0.1);
    store.undo();
    expect(runner.busy()).toBe(false);
    runner.event(at('up'), 0.1);
    expect(store.getState().doc.job.title).toBe('first');
  });

  test('another tool gives the gesture up, and what the old one wishes of the session is not heard', () => {
    const clinging: Tool<Pressing> = {
      ...titler('second'),
      step: (state, event, ctx) =>
        event.type === 'cancel'
          ? { ...idle, session: { tool: 'wall' } }
          : titler('second').step(state, event, ctx),
    };
    const { session, runner } = bench({ wall: clinging });
    runner.event(at('down'), 0.1);
    session.set({ tool: 'select' });
    expect(session.getState().tool).toBe('select');
    expect(runner.busy()).toBe(false);
    expect(session.getState().hint).toBe('');
  });

  test('a tool that comes later starts when it is there, unless another was taken meanwhile', async () => {
    let deliver = (_tool: Tool<Pressing>): void => undefined;
    const load = (): Promise<Tool<Pressing>> => new Promise((resolve) => (deliver = resolve));
    const { store, session, runner } = bench({}, { wall: load });
    deliver(titler('second'));
    await Promise.resolve();
    expect(session.getState().hint).toBe('press');
    runner.event(at('down'), 0.1);
    runner.event(at('up'), 0.1);
    expect(store.getState().doc.job.title).toBe('second');

    const other = bench({}, { wall: load });
    other.runner.event(at('down'), 0.1);
    other.session.set({ tool: 'select' });
    deliver(titler('third'));
    await Promise.resolve();
    expect(other.session.getState().hint).toBe('');
    other.session.set({ tool: 'wall' });
    expect(other.runner.busy()).toBe(false);
  });

  test('a press before the tool is there waits for it, and so does all that comes after', async () => {
    let deliver = (_tool: Tool<Pressing>): void => undefined;
    const load = (): Promise<Tool<Pressing>> => new Promise((resolve) => (deliver = resolve));
    const atRest: Tool<Pressing> = {
      ...titler('rest'),
      takes: (event) => event.type === 'move',
      step: (state) => ({ state, preview: null, hint: 'moved' }),
    };
    const { store, session, runner } = bench({ wall: atRest }, { wall: load });
    expect(session.getState().hint).toBe('press');
    runner.event(at('move'), 0.1);
    expect(session.getState().hint).toBe('moved');
    const heard: string[] = [];
    const whole: Tool<Pressing> = {
      ...titler('second'),
      step(state, event, ctx) {
        heard.push(event.type === 'move' ? `move ${ctx.scale}` : event.type);
        return titler('second').step(state, event, ctx);
      },
    };
    runner.event(at('down'), 0.1);
    runner.event(at('move'), 0.2);
    runner.event(at('move'), 0.3);
    runner.event(at('up'), 0.3);
    runner.event(at('down'), 0.3);
    expect(store.getState().rev).toBe(0);
    deliver(whole);
    await Promise.resolve();
    expect(heard).toEqual(['down', 'move 0.3', 'up', 'down']);
    expect(store.getState().doc.job.title).toBe('second');
    expect(runner.busy()).toBe(true);
  });

  test('a tool that cannot be fetched says so, forgets what waited, and is fetched again when next used', async () => {
    let tries = 0;
    const load = (): Promise<Tool<Pressing>> =>
      ++tries === 1 ? Promise.reject(new Error('no network')) : Promise.resolve(titler('second'));
    const { store, session, runner } = bench({}, { wall: load });
    runner.event(at('down'), 0.1);
    await Promise.resolve();
    await Promise.resolve();
    expect(session.getState().notice).toMatchObject({ tone: 'bad' });
    runner.event(at('up'), 0.1);
    await Promise.resolve();
    await Promise.resolve();
    expect(tries).toBe(2);
    expect(store.getState().rev).toBe(0);
    runner.event(at('down'), 0.1);
    runner.event(at('up'), 0.1);
    expect(store.getState().doc.job.title).toBe('second');
  });

  test('fingers reach further than a pointer', () => {
    const reaches: number[] = [];
    const feeling: Tool<Pressing> = {
      ...titler('x'),
      step(state, _event, ctx) {
        reaches.push(ctx.tolerance);
        return { state, preview: null, hint: '' };
      },
    };
    const { runner } = bench({ wall: feeling });
    runner.event(at('move'), 0.1);
    runner.event({ ...at('move'), touch: true } as ToolEvent, 0.1);
    expect(reaches[1]).toBeGreaterThan(reaches[0] ?? Infinity);
  });
});

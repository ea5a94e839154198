import './surface.css';
import type { App } from '../../tools/app.ts';
import { pan, pinch, planToScreen, screenToPlan, zoomAbout } from '../../tools/camera.ts';
import type { Spot, ToolEvent } from '../../tools/types.ts';
import type { PlanPoint, ScreenPoint } from '../../engine/model/units.ts';
import { askBoxFree, createAskBox } from './askBox.ts';
import { refKey } from './mirror.ts';
import type { Mirror, MirrorItem } from './mirror.ts';
import { listenPointer } from './pointer.ts';
import type { Modifiers, PointerKind } from './pointer.ts';
import type { CanvasStage } from './stage.ts';

/** A canvas people work on: the plan, or the band of faces. */
export interface SurfaceParts {
  readonly app: App;
  /** Told to tools with key presses; the plan when left out. */
  readonly surface?: 'plan' | 'face';
  /** Positioned element that holds the canvas, the mirror and the entry box. */
  readonly host: HTMLElement;
  readonly stage: CanvasStage;
  readonly mirror: Mirror;
  /** What is under a place of the canvas, as the tools see it; null off every face. */
  toSpot(at: ScreenPoint): Spot | null;
  /** May a press here work with the tool, or does it move the picture? */
  claim(at: ScreenPoint, touch: boolean): 'tool' | 'pan';
  /** In words, for the keyboard's cursor: "3 200 right, 1 400 down". */
  describe(at: ScreenPoint): string;
}

export interface Surface {
  /** Where the keyboard's cursor stands, to be painted on the overlay; null while the pointer is in use. */
  cursor(): ScreenPoint | null;
  dispose(): void;
}

/** One press of an arrow key moves the keyboard's cursor by so many mm. */
const CURSOR_STEP = 100;
const CURSOR_FINE = 10;
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/**
 * Joins a canvas to the tool runner: pointer, wheel, fingers and keyboard. With a tool for picking the arrow keys walk
 * through the records while nothing is selected and nudge what is selected; with one for placing they move a cursor
 * of 100 mm steps (10 mm with shift), and Enter is a click there. Pointer position stays out of React.
 */
export function connectSurface(parts: SurfaceParts): Surface {
  const { app, host, stage, mirror } = parts;
  let cursor: PlanPoint | null = null;
  let clicked: PlanPoint | null = null;
  /** The last click used what was typed; the press under way is the second of its double click. */
  let spent = false;
  let again = false;
  const scale = () => stage.camera().scale;
  const said = document.createElement('div');
  said.className = 'zw-said';
  said.setAttribute('role', 'status');
  host.append(mirror.element, said);
  /** After a typed length the keyboard's cursor stands where what is drawn now ends, not where it was aimed. */
  const followDrawing = () => {
    if (cursor === null || parts.surface === 'face') return;
    const end = app.runner.preview()?.plan.findLast((mark) => mark.kind === 'spot' && mark.look === 'handle');
    if (end?.kind !== 'spot' || !('x' in end.at)) return;
    cursor = end.at;
    clicked = end.at;
    stage.redraw('overlay');
  };
  const ask = createAskBox(
    app,
    host,
    scale,
    () => mirror.element.focus({ preventScroll: true }),
    followDrawing,
  );

  const send = (kind: PointerKind, at: ScreenPoint, modifiers: Modifiers) => {
    const spot = parts.toSpot(at);
    if (spot === null) return;
    ask.setMine(true);
    app.runner.event({ type: kind, spot, screen: at, ...modifiers } satisfies ToolEvent, scale());
  };
  const dropCursor = () => {
    if (cursor === null) return;
    cursor = null;
    stage.redraw('overlay');
  };

  const unlisten = listenPointer(stageElement(host), {
    claim: parts.claim,
    tool(kind, at, modifiers, second = false) {
      if (kind === 'down') {
        ask.pressed();
        mirror.element.focus({ preventScroll: true });
      }
      dropCursor();
      // The second click of a double click has nothing left to use: the first has spent what was typed.
      if (kind === 'down') again = spent && second;
      if (again && (kind === 'down' || kind === 'up')) return;
      const typed = kind === 'up' && app.runner.typed() !== null;
      send(kind, at, modifiers);
      if (kind === 'up') spent = typed;
    },
    cancel: () => app.runner.event({ type: 'cancel' }, scale()),
    pan: (dx, dy) => stage.setCamera(pan(stage.camera(), dx, dy)),
    zoom: (about, factor) => stage.setCamera(zoomAbout(stage.camera(), about, factor)),
    pinch: (before, after) => stage.setCamera(pinch(stage.camera(), before, after)),
    leave() {
      if (app.session.getState().hover !== null) app.session.set({ hover: null });
    },
  });

  const keyModifiers = (event: KeyboardEvent): Modifiers => ({
    shift: false,
    alt: event.altKey,
    ctrl: false,
    touch: false,
  });
  const reveal = (item: MirrorItem) => {
    const { px, py } = planToScreen(stage.camera(), item);
    const { width, height } = stage.size();
    const edge = 40;
    const dx = px < edge ? edge - px : px > width - edge ? width - edge - px : 0;
    const dy = py < edge ? edge - py : py > height - edge ? height - edge - py : 0;
    if (dx !== 0 || dy !== 0) stage.setCamera(pan(stage.camera(), dx, dy));
  };
  const browse = (item: MirrorItem | null) => {
    if (item === null) return;
    reveal(item);
    app.session.set({ hover: item.ref });
  };
  const moveCursor = (event: KeyboardEvent, [dx, dy]: readonly [number, number]) => {
    const { width, height } = stage.size();
    const from = cursor ?? clicked ?? snapTo(screenToPlan(stage.camera(), { px: width / 2, py: height / 2 }));
    const step = event.shiftKey ? CURSOR_FINE : CURSOR_STEP;
    cursor = { x: from.x + dx * step, y: from.y + dy * step };
    // Come back to after a round about, a place can be clicked again.
    clicked = null;
    reveal({ ref: { table: 'nodes', id: '', part: null }, label: '', ...cursor });
    const at = planToScreen(stage.camera(), cursor);
    send('move', at, keyModifiers(event));
    said.textContent = parts.describe(at);
    stage.redraw('overlay');
  };
  const click = (event: KeyboardEvent) => {
    if (cursor === null) return;
    const at = planToScreen(stage.camera(), cursor);
    send('down', at, keyModifiers(event));
    send('up', at, keyModifiers(event));
    clicked = cursor;
  };

  /** What has been clicked is not clicked again, unless something new may begin there. */
  const clickable = (): boolean =>
    cursor !== null && (!same(cursor, clicked) || (app.runner.manner().clicksAgain && !app.runner.busy()));

  /** True when the key was ours. */
  const key = (event: KeyboardEvent): boolean => {
    const session = app.session.getState();
    const plain = !event.ctrlKey && !event.metaKey && !event.altKey;
    const forward = () =>
      app.runner.event(
        {
          type: 'key',
          key: event.key,
          shift: event.shiftKey,
          ctrl: event.ctrlKey || event.metaKey,
          surface: parts.surface ?? 'plan',
        },
        scale(),
      );
    const arrow = ARROWS[event.key];
    if (event.key === 'Escape') {
      dropCursor();
      forward();
      return true;
    }
    if (!plain) return false;
    const manner = app.runner.manner();
    if (manner.pointer === 'place') {
      if (arrow) moveCursor(event, arrow);
      else if (event.key === 'Enter' && clickable()) click(event);
      else if (/^[0-9.]$/.test(event.key)) return ask.begin(event.key);
      else if (['Enter', 'Backspace', 'Delete'].includes(event.key)) forward();
      else if (manner.keys.some((own) => own.key === event.key.toLowerCase())) forward();
      else return false;
      return true;
    }
    if (event.key === 'Enter' || event.key === ' ') {
      const item = mirror.active();
      if (item === null) return false;
      const held = session.selection.some((ref) => refKey(ref) === refKey(item.ref));
      app.session.set({
        selection: event.shiftKey
          ? held
            ? session.selection.filter((ref) => refKey(ref) !== refKey(item.ref))
            : [...session.selection, item.ref]
          : [item.ref],
      });
      return true;
    }
    if (event.key === 'Home' || event.key === 'End') {
      browse(mirror.edge(event.key === 'Home' ? 'first' : 'last'));
      return true;
    }
    if (event.key === 'PageDown' || event.key === 'PageUp') {
      browse(mirror.step(event.key === 'PageDown' ? 10 : -10));
      return true;
    }
    if (arrow && session.selection.length === 0) {
      browse(mirror.step(arrow[0] + arrow[1]));
      return true;
    }
    if (arrow || event.key === 'Delete' || event.key === 'Backspace') {
      forward();
      return true;
    }
    if (/^[0-9.]$/.test(event.key)) return ask.begin(event.key);
    return false;
  };
  const onKey = (event: KeyboardEvent) => {
    if (event.defaultPrevented || event.isComposing) return;
    if (!key(event)) return;
    event.preventDefault();
    event.stopPropagation();
  };
  const onFocus = () => ask.setMine(true);
  // Until one of the sheets has been worked on, figures typed for a tool are the plan's.
  if (parts.surface !== 'face' && askBoxFree()) ask.setMine(true);
  mirror.element.addEventListener('keydown', onKey);
  mirror.element.addEventListener('focus', onFocus);

  let tool = app.session.getState().tool;
  const dress = () => {
    const state = app.session.getState();
    const element = stageElement(host);
    element.dataset['cursor'] =
      app.runner.manner().pointer === 'place' ? 'place' : state.hover === null ? 'rest' : 'pick';
    mirror.select(new Set(state.selection.map(refKey)));
    if (state.tool !== tool) {
      tool = state.tool;
      clicked = null;
      dropCursor();
    }
  };
  dress();
  const unsession = app.session.subscribe(dress);

  return {
    cursor: () => (cursor === null ? null : planToScreen(stage.camera(), cursor)),
    dispose() {
      unlisten();
      unsession();
      ask.dispose();
      mirror.element.removeEventListener('keydown', onKey);
      mirror.element.removeEventListener('focus', onFocus);
      said.remove();
      mirror.dispose();
    },
  };
}

/** The element that hears the pointer: the one that holds the canvases, so that boxes over it keep their own. */
function stageElement(host: HTMLElement): HTMLElement {
  return host.querySelector<HTMLElement>('.zw-canvas') ?? host;
}

/** The keyboard's cursor starts on whole steps, so that what is drawn with it has round numbers. */
function snapTo(at: PlanPoint): PlanPoint {
  return {
    x: Math.round(at.x / CURSOR_STEP) * CURSOR_STEP,
    y: Math.round(at.y / CURSOR_STEP) * CURSOR_STEP,
  };
}

function same(a: PlanPoint, b: PlanPoint | null): boolean {
  return b !== null && Math.abs(a.x - b.x) < 1e-6 && Math.abs(a.y - b.y) < 1e-6;
}

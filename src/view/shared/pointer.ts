import type { Px, ScreenPoint } from '../../engine/model/units.ts';

export interface Modifiers {
  readonly shift: boolean;
  readonly alt: boolean;
  readonly ctrl: boolean;
  readonly touch: boolean;
}
export type PointerKind = 'down' | 'move' | 'up' | 'double';

export interface PointerTarget {
  /** May the main button or one finger work with the tool here, or does it move the picture? */
  claim(at: ScreenPoint, touch: boolean): 'tool' | 'pan';
  /** `second`: a press that comes as the second of a double click. */
  tool(kind: PointerKind, at: ScreenPoint, modifiers: Modifiers, second?: boolean): void;
  /** The gesture under way came to nothing: a second finger, a lost pointer, the window losing focus. */
  cancel(): void;
  pan(dx: Px, dy: Px): void;
  zoom(about: ScreenPoint, factor: number): void;
  pinch(before: readonly [ScreenPoint, ScreenPoint], after: readonly [ScreenPoint, ScreenPoint]): void;
  leave(): void;
}

/** A press that moves less than this is a click; two within DOUBLE_MS and DOUBLE_PX are a double click. */
const CLICK_PX: Px = 6;
const DOUBLE_PX: Px = 10;
const DOUBLE_MS = 400;

type Gesture =
  | { readonly kind: 'none' }
  | { readonly kind: 'tool'; readonly id: number; readonly start: ScreenPoint; moved: boolean }
  | {
      readonly kind: 'pan';
      readonly id: number;
      readonly start: ScreenPoint;
      last: ScreenPoint;
      moved: boolean;
      readonly tap: boolean;
    }
  | { readonly kind: 'pinch'; readonly ids: readonly [number, number] };

/**
 * Turns the pointer events of an element into tool, pan and zoom. One pointer works or pans, two pinch and pan;
 * the middle button or the main one with the space bar held pans; the wheel zooms about the pointer and pans with
 * shift. Moves are handed on once per animation frame, and always before the press, release or key that follows them.
 */
export function listenPointer(element: HTMLElement, target: PointerTarget): () => void {
  let gesture: Gesture = { kind: 'none' };
  let space = false;
  let lastTap: { readonly at: ScreenPoint; readonly time: number } | null = null;
  let waiting: { at: ScreenPoint; modifiers: Modifiers } | null = null;
  let frame = 0;
  const fingers = new Map<number, ScreenPoint>();

  const place = (event: MouseEvent): ScreenPoint => {
    const box = element.getBoundingClientRect();
    return { px: event.clientX - box.left, py: event.clientY - box.top };
  };
  const modifiersOf = (event: PointerEvent): Modifiers => ({
    shift: event.shiftKey,
    alt: event.altKey,
    ctrl: event.ctrlKey || event.metaKey,
    touch: event.pointerType === 'touch',
  });
  const flush = () => {
    cancelAnimationFrame(frame);
    frame = 0;
    if (waiting === null) return;
    const { at, modifiers } = waiting;
    waiting = null;
    target.tool('move', at, modifiers);
  };
  const drop = () => {
    waiting = null;
    if (gesture.kind === 'tool') target.cancel();
    gesture = { kind: 'none' };
    delete element.dataset['panning'];
  };
  const far = (a: ScreenPoint, b: ScreenPoint) => Math.hypot(a.px - b.px, a.py - b.py);
  const capture = (id: number) => {
    try {
      element.setPointerCapture(id);
    } catch {
      // The pointer is already gone (released between the event and here): its up or cancel ends the gesture.
    }
  };

  const down = (event: PointerEvent) => {
    const at = place(event);
    const touch = event.pointerType === 'touch';
    flush();
    if (touch) {
      fingers.set(event.pointerId, at);
      const ids = [...fingers.keys()];
      if (ids.length === 2) {
        drop();
        capture(event.pointerId);
        gesture = { kind: 'pinch', ids: [ids[0] as number, ids[1] as number] };
        return;
      }
      if (ids.length > 2) return;
    }
    if (gesture.kind !== 'none') return;
    const pans = event.button === 1 || (event.button === 0 && space);
    if (event.button !== 0 && !pans) return;
    if (event.button === 1) event.preventDefault();
    capture(event.pointerId);
    if (pans || target.claim(at, touch) === 'pan') {
      gesture = { kind: 'pan', id: event.pointerId, start: at, last: at, moved: false, tap: !pans };
      element.dataset['panning'] = '';
      return;
    }
    gesture = { kind: 'tool', id: event.pointerId, start: at, moved: false };
    target.tool('down', at, modifiersOf(event), second(event, at));
  };

  const move = (event: PointerEvent) => {
    const at = place(event);
    if (gesture.kind === 'pinch') {
      const [a, b] = gesture.ids;
      const before = [fingers.get(a), fingers.get(b)] as const;
      fingers.set(event.pointerId, at);
      const after = [fingers.get(a), fingers.get(b)] as const;
      if (before[0] && before[1] && after[0] && after[1]) {
        target.pinch([before[0], before[1]], [after[0], after[1]]);
      }
      return;
    }
    if (fingers.has(event.pointerId)) fingers.set(event.pointerId, at);
    if (gesture.kind === 'pan') {
      if (gesture.id !== event.pointerId) return;
      if (!gesture.moved && far(at, gesture.start) < CLICK_PX) return;
      target.pan(at.px - gesture.last.px, at.py - gesture.last.py);
      gesture.last = at;
      gesture.moved = true;
      return;
    }
    if (gesture.kind === 'tool') {
      if (gesture.id !== event.pointerId) return;
      if (far(at, gesture.start) >= CLICK_PX) gesture.moved = true;
    }
    waiting = { at, modifiers: modifiersOf(event) };
    if (frame === 0) frame = requestAnimationFrame(flush);
  };

  const second = (event: PointerEvent, at: ScreenPoint): boolean =>
    lastTap !== null && event.timeStamp - lastTap.time < DOUBLE_MS && far(at, lastTap.at) < DOUBLE_PX;
  const tap = (event: PointerEvent, at: ScreenPoint) => {
    const double = second(event, at);
    lastTap = double ? null : { at, time: event.timeStamp };
    if (double) target.tool('double', at, modifiersOf(event));
  };

  const up = (event: PointerEvent) => {
    const at = place(event);
    fingers.delete(event.pointerId);
    if (gesture.kind === 'pinch') {
      if (gesture.ids.includes(event.pointerId)) gesture = { kind: 'none' };
      return;
    }
    if (gesture.kind === 'none' || gesture.id !== event.pointerId) return;
    const ended = gesture;
    if (ended.kind === 'tool') {
      flush();
      gesture = { kind: 'none' };
      target.tool('up', at, modifiersOf(event));
      if (ended.moved) lastTap = null;
      else tap(event, at);
      return;
    }
    gesture = { kind: 'none' };
    delete element.dataset['panning'];
    // A finger that panned nowhere is a tap: the tool hears it as a click on empty ground.
    if (!ended.moved && ended.tap) {
      target.tool('down', at, modifiersOf(event));
      target.tool('up', at, modifiersOf(event));
      tap(event, at);
    }
  };

  const lose = (event: PointerEvent) => {
    fingers.delete(event.pointerId);
    if (
      gesture.kind === 'pinch'
        ? gesture.ids.includes(event.pointerId)
        : gesture.kind !== 'none' && gesture.id === event.pointerId
    ) {
      drop();
    }
  };
  const blur = () => {
    space = false;
    fingers.clear();
    if (gesture.kind !== 'none') drop();
  };
  const wheel = (event: WheelEvent) => {
    event.preventDefault();
    const unit = event.deltaMode === 1 ? 16 : event.deltaMode === 2 ? element.clientHeight : 1;
    if (event.shiftKey && !event.ctrlKey) {
      // Some platforms already turn shift + wheel into sideways scrolling.
      const [dx, dy] = event.deltaX !== 0 ? [event.deltaX, event.deltaY] : [event.deltaY, 0];
      target.pan(-dx * unit, -dy * unit);
      return;
    }
    // A trackpad's pinch arrives as a wheel with ctrl held and small steps.
    const rate = event.ctrlKey && Math.abs(event.deltaY) < 50 ? 0.01 : 0.0015;
    target.zoom(place(event), Math.exp(-Math.max(-600, Math.min(600, event.deltaY * unit)) * rate));
  };
  const leave = (event: PointerEvent) => {
    if (gesture.kind !== 'none' || event.pointerType === 'touch') return;
    waiting = null;
    target.leave();
  };
  const typing = (event: KeyboardEvent) =>
    event.target instanceof HTMLElement &&
    event.target.closest('input, textarea, select, button, a, [contenteditable]') !== null;
  const keyDown = (event: KeyboardEvent) => {
    // A length typed right after a move belongs to where the pointer is now.
    flush();
    if (event.code === 'Space' && !typing(event)) space = true;
  };
  const keyUp = (event: KeyboardEvent) => {
    if (event.code === 'Space') space = false;
  };
  const noMenu = (event: Event) => event.preventDefault();
  // Else the browser would take the keyboard from the list of records, which the press has just given it.
  const keepFocus = (event: Event) => event.preventDefault();

  element.style.touchAction = 'none';
  element.addEventListener('pointerdown', down);
  element.addEventListener('pointermove', move);
  element.addEventListener('pointerup', up);
  element.addEventListener('pointercancel', lose);
  element.addEventListener('lostpointercapture', lose);
  element.addEventListener('pointerleave', leave);
  element.addEventListener('wheel', wheel, { passive: false });
  element.addEventListener('contextmenu', noMenu);
  element.addEventListener('mousedown', keepFocus);
  window.addEventListener('blur', blur);
  window.addEventListener('keydown', keyDown, { capture: true });
  window.addEventListener('keyup', keyUp);
  return () => {
    cancelAnimationFrame(frame);
    element.removeEventListener('pointerdown', down);
    element.removeEventListener('pointermove', move);
    element.removeEventListener('pointerup', up);
    element.removeEventListener('pointercancel', lose);
    element.removeEventListener('lostpointercapture', lose);
    element.removeEventListener('pointerleave', leave);
    element.removeEventListener('wheel', wheel);
    element.removeEventListener('contextmenu', noMenu);
    element.removeEventListener('mousedown', keepFocus);
    window.removeEventListener('blur', blur);
    window.removeEventListener('keydown', keyDown, { capture: true });
    window.removeEventListener('keyup', keyUp);
  };
}

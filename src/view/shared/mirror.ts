import type { Ref } from '../../tools/types.ts';
import { planToScreen } from '../../tools/camera.ts';
import type { CanvasStage } from './stage.ts';

/** A record on the canvas as people who cannot see it, and tests, meet it. */
export interface MirrorItem {
  readonly ref: Ref;
  /** "Wall w3, 3 400 mm, timber stud". */
  readonly label: string;
  /** Its place in mm of the camera's space (for faces y is -z). */
  readonly x: number;
  readonly y: number;
}

/** The transparent list over a canvas: one focusable listbox, an option per record, at the record's place. */
export interface Mirror {
  readonly element: HTMLElement;
  update(items: readonly MirrorItem[]): void;
  select(keys: ReadonlySet<string>): void;
  /** The option the arrow keys stand on. */
  active(): MirrorItem | null;
  /** Moves by so many options, stopping at the ends; from none to the first or last. */
  step(by: number): MirrorItem | null;
  edge(end: 'first' | 'last'): MirrorItem | null;
  activate(key: string | null): void;
  dispose(): void;
}

/** Above this number of records only those in view are listed, so that a large plan stays light. */
const MIRROR_CAP = 400;
const OPTION_PX = 24;

export function refKey(ref: Ref): string {
  return `${ref.table}:${ref.id}${ref.part === null ? '' : `:${ref.part}`}`;
}

export function createMirror(stage: CanvasStage, label: string, idPrefix: string): Mirror {
  const list = document.createElement('div');
  list.setAttribute('role', 'listbox');
  list.setAttribute('aria-label', label);
  list.setAttribute('aria-multiselectable', 'true');
  list.tabIndex = 0;
  list.className = 'zw-mirror';
  let items: readonly MirrorItem[] = [];
  let selected: ReadonlySet<string> = new Set();
  let activeKey: string | null = null;
  const options = new Map<string, HTMLElement>();
  let timer = 0;

  const shown = (): readonly MirrorItem[] => {
    if (items.length <= MIRROR_CAP) return items;
    const { width, height } = stage.size();
    const camera = stage.camera();
    const inView = items.filter((item) => {
      const { px, py } = planToScreen(camera, item);
      return refKey(item.ref) === activeKey || (px >= 0 && py >= 0 && px <= width && py <= height);
    });
    return inView.slice(0, MIRROR_CAP);
  };

  const layOut = () => {
    timer = 0;
    const camera = stage.camera();
    const want = shown();
    const keys = new Set(want.map((item) => refKey(item.ref)));
    for (const [key, option] of options) {
      if (keys.has(key)) continue;
      option.remove();
      options.delete(key);
    }
    let before: Element | null = null;
    for (const item of want) {
      const key = refKey(item.ref);
      let option = options.get(key);
      if (!option) {
        option = document.createElement('div');
        option.setAttribute('role', 'option');
        option.dataset['ref'] = key;
        option.id = `${idPrefix}-${key.replaceAll(/[^a-z0-9_-]/gi, '-')}`;
        options.set(key, option);
      }
      if (option.getAttribute('aria-label') !== item.label) option.setAttribute('aria-label', item.label);
      option.setAttribute('aria-selected', String(selected.has(key)));
      const { px, py } = planToScreen(camera, item);
      option.style.transform = `translate(${px - OPTION_PX / 2}px, ${py - OPTION_PX / 2}px)`;
      const next: Element | null = before === null ? list.firstElementChild : before.nextElementSibling;
      if (next !== option) list.insertBefore(option, next);
      before = option;
    }
    const active = activeKey === null ? undefined : options.get(activeKey);
    if (active) list.setAttribute('aria-activedescendant', active.id);
    else list.removeAttribute('aria-activedescendant');
  };
  // After the picture has come to rest: moving hundreds of elements in every frame of a pan would be felt.
  const later = () => {
    clearTimeout(timer);
    timer = window.setTimeout(layOut, 60);
  };
  const unview = stage.onView(later);

  const at = (key: string | null) =>
    key === null ? -1 : items.findIndex((item) => refKey(item.ref) === key);
  const go = (index: number): MirrorItem | null => {
    const item = items[Math.max(0, Math.min(items.length - 1, index))];
    activeKey = item ? refKey(item.ref) : null;
    layOut();
    return item ?? null;
  };

  return {
    element: list,
    update(next) {
      items = next;
      if (at(activeKey) < 0) activeKey = null;
      layOut();
    },
    select(keys) {
      selected = keys;
      for (const [key, option] of options) option.setAttribute('aria-selected', String(keys.has(key)));
    },
    active: () => items[at(activeKey)] ?? null,
    step: (by) => go(activeKey === null ? (by > 0 ? 0 : items.length - 1) : at(activeKey) + by),
    edge: (end) => go(end === 'first' ? 0 : items.length - 1),
    activate(key) {
      activeKey = key;
      layOut();
    },
    dispose() {
      clearTimeout(timer);
      unview();
      list.remove();
    },
  };
}

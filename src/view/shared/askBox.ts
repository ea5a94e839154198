import type { App } from '../../tools/app.ts';
import type { ScreenPoint, Px } from '../../engine/model/units.ts';

/** The entry box by the pointer for a length, height or position the current tool asks for. */
export interface AskBox {
  /** Moves it next to a place of the canvas; it is hidden while nothing is asked, or while it is not `mine`. */
  place(at: ScreenPoint): void;
  /** Gives it the keyboard, starting with the character that was pressed. False when nothing is asked. */
  begin(text: string): boolean;
  setMine(mine: boolean): void;
  dispose(): void;
}

const OFFSET: Px = 18;

/** The surface last worked on shows the box; the other lets go of it. */
let owner: AskBox | null = null;

/** `giveBack` returns the keyboard to the canvas; `answered` is called after a typed value has been dealt with. */
export function createAskBox(
  app: App,
  host: HTMLElement,
  scale: () => number,
  giveBack: () => void,
  answered: () => void,
): AskBox {
  const form = document.createElement('form');
  form.className = 'zw-ask';
  form.hidden = true;
  const label = document.createElement('label');
  const caption = document.createElement('span');
  const input = document.createElement('input');
  input.type = 'text';
  input.autocomplete = 'off';
  input.spellcheck = false;
  label.append(caption, ' ', input);
  form.append(label);
  host.append(form);
  let mine = false;
  /** The question that stands asked for the keyboard, and was given it once. */
  let wanted = false;
  let last: ScreenPoint = { px: 0, py: 0 };

  const move = () => {
    const width = form.offsetWidth || 140;
    const height = form.offsetHeight || 36;
    const px = Math.max(4, Math.min(last.px + OFFSET, host.clientWidth - width - 4));
    const py = Math.max(4, Math.min(last.py + OFFSET, host.clientHeight - height - 4));
    form.style.transform = `translate(${px}px, ${py}px)`;
  };
  const refresh = () => {
    const ask = app.runner.ask();
    const show = ask !== null && mine;
    if (!show) {
      if (form.hidden) return;
      wanted = false;
      const held = document.activeElement === input;
      form.hidden = true;
      input.value = '';
      if (held) giveBack();
      return;
    }
    caption.textContent = ask.label;
    // What the person is typing is theirs: the tool's own value only stands while they are elsewhere.
    if (document.activeElement !== input) input.value = ask.value;
    if (form.hidden || (ask.focus && !wanted)) {
      form.hidden = false;
      move();
      if (ask.focus) {
        input.focus({ preventScroll: true });
        input.select();
      }
    }
    wanted = ask.focus ?? false;
  };
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const text = input.value;
    input.value = '';
    wanted = false;
    giveBack();
    app.runner.event({ type: 'typed', text }, scale());
    answered();
  });
  input.addEventListener('keydown', (event) => {
    event.stopPropagation();
    if (event.key !== 'Escape') return;
    event.preventDefault();
    input.value = '';
    giveBack();
    if (wanted) app.runner.event({ type: 'key', key: 'Escape', shift: false, ctrl: false }, scale());
  });
  // Pressing in the box must not start a gesture on the canvas under it.
  form.addEventListener('pointerdown', (event) => event.stopPropagation());
  const unsubscribe = app.runner.subscribe(refresh);
  const box: AskBox = {
    place(at) {
      last = at;
      if (!form.hidden && document.activeElement !== input) move();
    },
    begin(text) {
      if (app.runner.ask() === null || !mine) return false;
      refresh();
      input.focus({ preventScroll: true });
      input.value = text;
      return true;
    },
    setMine(next) {
      if (next && owner !== box) {
        owner?.setMine(false);
        owner = box;
      }
      mine = next;
      refresh();
    },
    dispose() {
      if (owner === box) owner = null;
      unsubscribe();
      form.remove();
    },
  };
  return box;
}

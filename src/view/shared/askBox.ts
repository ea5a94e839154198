import type { App } from '../../tools/app.ts';

/**
 * The entry box for a length, height or position the current tool asks for. It stands in a corner of its sheet, out of
 * the way of the pointer, and what is typed shows in the preview and is used by the next click, with or without Enter.
 */
export interface AskBox {
  /** Gives it the keyboard, starting with the character that was pressed. False when nothing is asked. */
  begin(text: string): boolean;
  /** A press on the canvas: an answer still unentered that the tool waits for is given before the press counts. */
  pressed(): void;
  setMine(mine: boolean): void;
  dispose(): void;
}

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
    // What the person is typing is theirs: the tool's own value stands until they begin, and after it was used.
    if (app.runner.typed() === null && document.activeElement !== input) input.value = ask.value;
    if (form.hidden || (ask.focus && !wanted)) {
      form.hidden = false;
      if (ask.focus) {
        input.focus({ preventScroll: true });
        input.select();
      }
    }
    wanted = ask.focus ?? false;
  };
  const enter = (text: string) => {
    input.value = '';
    wanted = false;
    giveBack();
    app.runner.event({ type: 'typed', text }, scale());
    answered();
  };
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    enter(input.value);
  });
  input.addEventListener('input', () => app.runner.typing(input.value));
  input.addEventListener('focus', () => input.select());
  input.addEventListener('keydown', (event) => {
    event.stopPropagation();
    if (event.key !== 'Escape') return;
    event.preventDefault();
    input.value = '';
    giveBack();
    app.runner.typing(null);
    if (wanted) app.runner.event({ type: 'key', key: 'Escape', shift: false, ctrl: false }, scale());
  });
  // Pressing in the box must not start a gesture on the canvas under it.
  form.addEventListener('pointerdown', (event) => event.stopPropagation());
  /** A figure typed right after a tool was picked, while a button or nothing has the keyboard. */
  const figure = (event: KeyboardEvent) => {
    if (event.defaultPrevented || event.isComposing || !/^[0-9.]$/.test(event.key)) return;
    if (event.ctrlKey || event.metaKey || event.altKey || document.querySelector('dialog[open]')) return;
    const at = event.target;
    if (at instanceof HTMLElement && at.closest('input, textarea, select, [contenteditable], [role=menu]'))
      return;
    if (box.begin(event.key)) event.preventDefault();
  };
  document.addEventListener('keydown', figure);
  const unsubscribe = app.runner.subscribe(refresh);
  const box: AskBox = {
    begin(text) {
      if (app.runner.ask() === null || !mine) return false;
      refresh();
      input.focus({ preventScroll: true });
      input.value = text;
      app.runner.typing(text);
      return true;
    },
    pressed() {
      if (app.runner.ask()?.focus && (app.runner.typed() ?? '').trim() !== '') enter(input.value);
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
      document.removeEventListener('keydown', figure);
      unsubscribe();
      form.remove();
    },
  };
  return box;
}

/** True when no surface has the entry box yet. */
export function askBoxFree(): boolean {
  return owner === null;
}

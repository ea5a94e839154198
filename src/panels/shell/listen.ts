import { commitTyped } from '../../app/leaving.ts';
import { removeSelected } from '../../app/removing.ts';
import { commandHeld, typing } from '../ui/keys.ts';
import { say, type Program } from '../../app/program.ts';
import { STAGES } from '../../app/stageInfo.ts';

const inDialog = (): boolean => document.querySelector('dialog[open]') !== null;

/**
 * Keys of the whole page. What a canvas, a menu or a field has already used does not come here (they prevent the
 * default or stop it), and bare keys are left alone where text is typed.
 */
export function listenForKeys(program: Program, help: () => void): () => void {
  const onKey = (event: KeyboardEvent): void => {
    if (event.defaultPrevented || (inDialog() && !saves(event))) return;
    if (handle(program, event, help)) event.preventDefault();
  };
  window.addEventListener('keydown', onKey);
  return () => window.removeEventListener('keydown', onKey);
}

const saves = (event: KeyboardEvent): boolean =>
  commandHeld(event) && !event.altKey && !event.shiftKey && event.key.toLowerCase() === 's';

function handle(program: Program, event: KeyboardEvent, help: () => void): boolean {
  const { store, session, viewer, runner } = program;
  const key = event.key;
  if (commandHeld(event) && !event.altKey) {
    const letter = key.toLowerCase();
    if (saves(event)) {
      commitTyped();
      return tell(program, program.files.saveCopy());
    }
    if (letter === 'o' && !event.shiftKey) {
      document.getElementById('open-file')?.click();
      return true;
    }
    if (typing(event.target)) return false;
    if (letter === 'z') {
      if (event.shiftKey) store.redo();
      else store.undo();
      return true;
    }
    if (letter === 'y' && !event.shiftKey) {
      store.redo();
      return true;
    }
    return false;
  }
  if (key === 'F6') return nextRegion(event.shiftKey ? -1 : 1);
  if (event.altKey || event.ctrlKey || event.metaKey || typing(event.target)) return false;
  if (key === '?') {
    help();
    return true;
  }
  if (key === 'Escape') return escape(program);
  if (key === 'Delete' || key === 'Backspace') {
    if (session.getState().selection.length === 0) return false;
    void removeSelected(program);
    return true;
  }
  const surface = document.activeElement?.closest('[data-region=elevations]') ? 'face' : 'plan';
  if (key === '+' || key === '=') viewer.show({ kind: 'zoom', by: 1.4, surface });
  else if (key === '-') viewer.show({ kind: 'zoom', by: 1 / 1.4, surface });
  else if (key === '0') viewer.show({ kind: 'all' });
  else {
    // With a tool in hand figures are lengths for it; they change the stage only when nothing is being drawn.
    const resting = runner.manner().pointer === 'pick' && !runner.busy();
    const stage = resting && /^[1-7]$/.test(key) ? STAGES[Number(key) - 1] : undefined;
    if (!stage) return false;
    session.set({ stage: stage.stage, tool: 'select', lit: new Set() });
  }
  return true;
}

/** One thing at a time: the gesture, then the tool, then the selection. */
function escape(program: Program): boolean {
  const { session, runner } = program;
  const state = session.getState();
  if (runner.busy()) runner.cancel();
  else if (runner.manner().pointer === 'place') session.set({ tool: 'select' });
  else if (state.selection.length > 0 || state.lit.size > 0) session.set({ selection: [], lit: new Set() });
  else if (state.panel !== null) session.set({ panel: null });
  else return false;
  return true;
}

/** Moves the focus to the next region of the page that can be seen, wrapping round. */
function nextRegion(step: 1 | -1): boolean {
  const regions = [...document.querySelectorAll<HTMLElement>('[data-region]')].filter(
    (each) => each.offsetParent !== null,
  );
  const now = regions.findIndex((each) => each.contains(document.activeElement));
  const next = regions[(now + step + regions.length) % regions.length] ?? regions[0];
  if (!next) return false;
  // The drawing itself before the buttons that stand on it.
  const inner =
    next.querySelector<HTMLElement>('[aria-current], [role=listbox]') ??
    next.querySelector<HTMLElement>(
      '[tabindex="0"], button:not([disabled]):not(.panel-close), input, select',
    );
  (inner ?? next).focus();
  return true;
}

function tell(program: Program, work: Promise<string | null>): true {
  void work.then((problem) => {
    if (problem !== null) say(program, problem, 'bad');
  });
  return true;
}

/** A file dropped anywhere, or a picture pasted: pictures go under the plan, anything else is opened as a plan. */
export function listenForFiles(program: Program, onDrag: (over: boolean) => void): () => void {
  const take = (files: FileList | null | undefined): boolean => {
    const file = files?.[0];
    if (!file) return false;
    const picture = /^image\//.test(file.type) || /\.(png|jpe?g|webp)$/i.test(file.name);
    return tell(program, picture ? program.files.addPicture(file) : program.files.open(file));
  };
  const holdsFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') === true;
  const over = (event: DragEvent): void => {
    if (!holdsFiles(event)) return;
    event.preventDefault();
    onDrag(true);
  };
  const leave = (event: DragEvent): void => {
    if (event.relatedTarget === null) onDrag(false);
  };
  const drop = (event: DragEvent): void => {
    if (!holdsFiles(event)) return;
    event.preventDefault();
    onDrag(false);
    take(event.dataTransfer?.files);
  };
  const paste = (event: ClipboardEvent): void => {
    if (!typing(event.target) && take(event.clipboardData?.files)) event.preventDefault();
  };
  window.addEventListener('dragover', over);
  window.addEventListener('dragleave', leave);
  window.addEventListener('drop', drop);
  window.addEventListener('paste', paste);
  return () => {
    window.removeEventListener('dragover', over);
    window.removeEventListener('dragleave', leave);
    window.removeEventListener('drop', drop);
    window.removeEventListener('paste', paste);
  };
}

/** True on the platforms whose command key is ⌘. */
export const APPLE = /mac|iphone|ipad/i.test(
  typeof navigator === 'undefined' ? '' : `${navigator.platform} ${navigator.userAgent}`,
);

const mod = APPLE ? '⌘' : 'Ctrl+';
const shift = APPLE ? '⇧' : 'Shift+';

/** How shortcuts are written on this platform. */
export const KEYS = {
  undo: `${mod}Z`,
  redo: `${APPLE ? shift + mod : mod + shift}Z`,
  open: `${mod}O`,
  save: `${mod}S`,
} as const;

/** True when the control key of the platform's commands is held. */
export function commandHeld(event: { readonly ctrlKey: boolean; readonly metaKey: boolean }): boolean {
  return APPLE ? event.metaKey && !event.ctrlKey : event.ctrlKey && !event.metaKey;
}

/** True where letters and digits are typed, so that bare keys are not shortcuts there. */
export function typing(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (
    target.isContentEditable ||
    target instanceof HTMLTextAreaElement ||
    target instanceof HTMLSelectElement
  )
    return true;
  return (
    target instanceof HTMLInputElement &&
    !['checkbox', 'radio', 'button', 'range', 'file', 'submit', 'color'].includes(target.type)
  );
}

import type { Saving } from './types.ts';

/**
 * Takes what is being typed in a field as leaving the field would, and comes back to it: whoever saves, or goes, means
 * what is on the screen.
 */
export function commitTyped(): void {
  const field = document.activeElement;
  if (!(field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement)) return;
  field.blur();
  if (field.isConnected) field.focus();
}

/** Commits the field being typed in when the page goes, and asks first where the plan could not be written. */
export function listenForLeaving(saving: Saving): () => void {
  const before = (event: BeforeUnloadEvent): void => {
    commitTyped();
    if (saving.get().state === 'not-saved') event.preventDefault();
  };
  const hidden = (): void => {
    if (document.visibilityState === 'hidden') commitTyped();
  };
  window.addEventListener('beforeunload', before);
  window.addEventListener('pagehide', commitTyped, { capture: true });
  document.addEventListener('visibilitychange', hidden, { capture: true });
  return () => {
    window.removeEventListener('beforeunload', before);
    window.removeEventListener('pagehide', commitTyped, { capture: true });
    document.removeEventListener('visibilitychange', hidden, { capture: true });
  };
}

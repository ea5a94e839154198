import type { DocumentStore } from '../document/types.ts';
import type { Vault } from '../io/storage/vault.ts';
import type { SaveState, Saving } from './types.ts';

const WORDS: Readonly<Record<SaveState['state'], string>> = {
  saved: 'Kept in this browser, on this device.',
  saving: 'Being written to this device.',
  'not-saved': 'Not written to this device.',
  'read-only': 'Opened for looking only.',
  none: 'Not kept on this device.',
};

/** The vault's state as the title block shows it: the same object while nothing has changed. */
export function savingOf(vault: Vault, store: DocumentStore): Saving {
  let held: SaveState = { state: 'none', text: '' };
  return {
    get() {
      const state = vault.status();
      const text = vault.reason() ?? WORDS[state];
      if (state !== held.state || text !== held.text) held = { state, text };
      return held;
    },
    subscribe: (listener) => vault.subscribe(listener),
    takeOver() {
      void vault.takeOver().then((restored) => {
        if (restored.doc) store.replace(restored.doc);
      });
    },
    newer: vault.load().newer,
  };
}

/** A store that refuses changes while another tab holds the plan, and says so. Opening another plan is not held up. */
export function guarded(store: DocumentStore, readOnly: () => string | null): DocumentStore {
  return {
    ...store,
    dispatch(command) {
      const reason = readOnly();
      return reason === null ? store.dispatch(command) : { ok: false, reason };
    },
    undo() {
      if (readOnly() === null) store.undo();
    },
    redo() {
      if (readOnly() === null) store.redo();
    },
  };
}

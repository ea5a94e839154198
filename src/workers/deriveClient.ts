import type { DocumentStore } from '../document/types.ts';
import { applyDelta, emptyView, type DerivedView } from '../engine/derive/delta.ts';
import type { FromDeriver, ToDeriver } from './messages.ts';

/** What is needed of a worker; the tests hand in one that answers at once. */
export interface Port {
  postMessage(message: ToDeriver): void;
  onmessage: ((event: MessageEvent<FromDeriver>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
}

export interface DeriveClient {
  get(): { readonly derived: DerivedView; readonly rev: number };
  subscribe(listener: () => void): () => void;
}

/**
 * Follows a store: sends each change to the worker, and keeps the view of what it answers. The view may lag the
 * document; answers to a plan that has since been replaced are passed over. `stopped` hears why the worker gave up.
 */
export function followDerived(
  store: DocumentStore,
  port: Port,
  stopped: (message: string) => void,
): DeriveClient {
  let held = { derived: emptyView(), rev: -1 };
  let since = 0;
  const listeners = new Set<() => void>();
  const tell = (): void => {
    for (const listener of [...listeners]) listener();
  };
  const open = (): void => {
    const { doc, rev } = store.getState();
    since = rev;
    held = { derived: emptyView(), rev: -1 };
    port.postMessage({ kind: 'open', rev, doc });
  };
  port.onmessage = ({ data }) => {
    if (data.rev < since) return;
    if (data.kind === 'failed') {
      stopped(data.message);
      return;
    }
    held = { derived: applyDelta(held.derived, data.delta), rev: data.rev };
    tell();
  };
  port.onerror = (event) => stopped(event.message);
  store.subscribe((state, touched, change) => {
    if (touched === 'all' || change === null) {
      open();
      tell();
    } else port.postMessage({ kind: 'change', rev: state.rev, change });
  });
  open();
  return {
    get: () => held,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

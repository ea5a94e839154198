/** A newer version of the program, fetched whole and waiting. It comes only when the person asks for it. */
export interface Update {
  ready(): boolean;
  subscribe(listener: () => void): () => void;
  /** Lets it take over and loads the page again with it. */
  load(): void;
}

/** Keeps the program on this device, and watches for a newer one. Without service workers nothing ever waits. */
export function watchUpdates(
  workers: ServiceWorkerContainer | null,
  script: string,
  reload: () => void,
): Update {
  const listeners = new Set<() => void>();
  let waiting: ServiceWorker | null = null;
  const found = (worker: ServiceWorker | null): void => {
    waiting = worker;
    for (const listener of [...listeners]) listener();
  };
  const watch = (registration: ServiceWorkerRegistration): void => {
    // With none before it, it is the first: there is nothing to replace.
    if (registration.waiting && registration.active) found(registration.waiting);
    registration.addEventListener('updatefound', () => {
      const coming = registration.installing;
      coming?.addEventListener('statechange', () => {
        if (coming.state === 'installed' && registration.active) found(coming);
      });
    });
  };
  // Without it the program works all the same, only not without a connection.
  workers?.register(script).then(watch, () => undefined);
  return {
    ready: () => waiting !== null,
    subscribe(listener) {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    load() {
      workers?.addEventListener('controllerchange', reload, { once: true });
      waiting?.postMessage('take-over');
    },
  };
}

/** What becomes of the open plan when another is opened. */
export type Leave = 'save' | 'go' | 'stay';

/** A question that waits for the person; the dialog that asks it listens here. */
export interface Question {
  ask(): Promise<Leave>;
  answer(leave: Leave): void;
  open(): boolean;
  subscribe(listener: () => void): () => void;
}

export function createQuestion(): Question {
  let waiting: ((leave: Leave) => void) | null = null;
  const listeners = new Set<() => void>();
  const tell = (): void => {
    for (const listener of [...listeners]) listener();
  };
  return {
    ask() {
      waiting?.('stay');
      return new Promise<Leave>((resolve) => {
        waiting = resolve;
        tell();
      });
    },
    answer(leave) {
      const resolve = waiting;
      waiting = null;
      tell();
      resolve?.(leave);
    },
    open: () => waiting !== null,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

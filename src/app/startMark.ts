const MARK = 'zonewright-start';
/** A page left sooner than this was left on purpose, ms: it did not fail to start. */
const SOON = 8000;

/** Whether the last start came to the point where one can work, kept where it is written at once. */
export interface StartMark {
  /** True when the last start did not. */
  readonly failed: boolean;
  /** This one has come so far. */
  through(): void;
}

/** Marks that a start has begun. Where nothing can be stored every start counts as good. */
export function markStart(storage: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'> | null): StartMark {
  const begun = Date.now();
  const clear = (): void => {
    try {
      storage?.removeItem(MARK);
    } catch {
      // Then the next start offers the list once more than it need.
    }
  };
  let failed = false;
  try {
    failed = (storage?.getItem(MARK) ?? null) !== null;
    storage?.setItem(MARK, String(begun));
  } catch {
    failed = false;
  }
  window.addEventListener('pagehide', () => {
    if (Date.now() - begun < SOON) clear();
  });
  return { failed, through: clear };
}

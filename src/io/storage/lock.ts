const NAME = 'zonewright-plan';

/**
 * Asks to be the one tab that writes, without waiting; with `steal`, takes it from whoever has it. Null when another tab
 * has it. `lost` is called when it is taken away. Where there are no locks, or they do not answer within `patience` ms, the
 * tab writes: the fence in the database then keeps two from mixing.
 */
export function holdLock(
  locks: LockManager | null,
  steal: boolean,
  patience: number,
  lost: () => void,
): Promise<{ readonly release: () => void } | null> {
  if (locks === null) return Promise.resolve({ release: () => undefined });
  return new Promise((resolve) => {
    let held = false;
    let released = false;
    let letGo = (): void => undefined;
    const release = (): void => {
      released = true;
      letGo();
    };
    // A lock that comes later is kept all the same.
    const late = setTimeout(() => resolve({ release }), patience);
    locks
      .request(NAME, steal ? { steal: true } : { ifAvailable: true }, (lock) => {
        clearTimeout(late);
        if (lock === null) {
          resolve(null);
          return;
        }
        held = true;
        return new Promise<void>((end) => {
          letGo = end;
          if (released) end();
          resolve({ release });
        });
      })
      .catch(() => {
        clearTimeout(late);
        if (!held) resolve({ release });
        else if (!released) lost();
      });
  });
}

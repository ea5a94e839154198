const NAME = 'zonewright-plan';

/**
 * Asks to be the one tab that writes, without waiting; with `steal`, takes it from whoever has it. Null when another tab
 * has it. `lost` is called when it is taken away. Where there are no locks the tab writes: the fence in the database then
 * keeps two from mixing.
 */
export function holdLock(
  locks: LockManager | null,
  steal: boolean,
  lost: () => void,
): Promise<{ readonly release: () => void } | null> {
  if (locks === null) return Promise.resolve({ release: () => undefined });
  return new Promise((resolve) => {
    let held = false;
    let released = false;
    locks
      .request(NAME, steal ? { steal: true } : { ifAvailable: true }, (lock) => {
        if (lock === null) {
          resolve(null);
          return;
        }
        held = true;
        return new Promise<void>((release) => {
          resolve({
            release: () => {
              released = true;
              release();
            },
          });
        });
      })
      .catch(() => {
        if (!held) resolve({ release: () => undefined });
        else if (!released) lost();
      });
  });
}

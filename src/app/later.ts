/** Resolves when the page has nothing more pressing to do, or after a while at the latest. */
export function whenIdle(): Promise<void> {
  return new Promise((resolve) => {
    if (document.readyState !== 'complete') {
      window.addEventListener('load', () => void whenIdle().then(resolve), { once: true });
      return;
    }
    if (typeof window.requestIdleCallback === 'function')
      window.requestIdleCallback(() => resolve(), { timeout: 1500 });
    else setTimeout(resolve, 200);
  });
}

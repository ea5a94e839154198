import type { Port } from './deriveClient.ts';
import type { ToDeriver } from './messages.ts';

/** A worker as the browser makes it. */
export type Made = Omit<Port, 'onerror'> & { onerror: ((event: ErrorEvent) => void) | null };

/**
 * A port whose worker is made when `ready` comes; what is posted before then waits for it in order. So the page can
 * be drawn before the worker's script is fetched. A worker that cannot be made is an error of the port.
 */
export function latePort(ready: Promise<unknown>, make: () => Made): Port {
  const waiting: ToDeriver[] = [];
  let made: Made | null = null;
  let ended = false;
  const port: Port = {
    onmessage: null,
    onerror: null,
    postMessage(message) {
      if (made) made.postMessage(message);
      else waiting.push(message);
    },
    terminate() {
      ended = true;
      made?.terminate();
    },
  };
  void ready.then(() => {
    if (ended) return;
    try {
      made = make();
    } catch (error) {
      port.onerror?.({ message: error instanceof Error ? error.message : String(error) });
      return;
    }
    made.onmessage = (event) => port.onmessage?.(event);
    made.onerror = (event) => port.onerror?.(event);
    for (const message of waiting.splice(0)) made.postMessage(message);
  });
  return port;
}

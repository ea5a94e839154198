import type { Port } from './deriveClient.ts';
import type { ToDeriver } from './messages.ts';

/**
 * A port whose worker is made when `ready` comes; what is posted before then waits for it in order. So the page can
 * be drawn before the worker's script is fetched.
 */
export function latePort(ready: Promise<unknown>, make: () => Port): Port {
  const waiting: ToDeriver[] = [];
  let made: Port | null = null;
  const port: Port = {
    onmessage: null,
    onerror: null,
    postMessage(message) {
      if (made) made.postMessage(message);
      else waiting.push(message);
    },
  };
  void ready.then(() => {
    made = make();
    made.onmessage = (event) => port.onmessage?.(event);
    made.onerror = (event) => port.onerror?.(event);
    for (const message of waiting.splice(0)) made.postMessage(message);
  });
  return port;
}

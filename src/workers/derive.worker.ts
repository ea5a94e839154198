import { createDeriver } from './deriver.ts';
import type { FromDeriver, ToDeriver } from './messages.ts';

/** The entry of the worker: messages in, deltas out, sums once nothing more waits. */
interface WorkerScope {
  onmessage: ((event: MessageEvent<ToDeriver>) => void) | null;
  postMessage(message: FromDeriver): void;
}

const scope = self as unknown as WorkerScope;
const deriver = createDeriver((message) => scope.postMessage(message));
let timer: ReturnType<typeof setTimeout> | undefined;

scope.onmessage = ({ data }) => {
  scope.postMessage(deriver.take(data));
  // Messages that already wait are handled before a timer: a burst of changes pays for one planning of drums.
  clearTimeout(timer);
  timer = setTimeout(() => {
    const sums = deriver.sums();
    if (sums) scope.postMessage(sums);
  }, 0);
};

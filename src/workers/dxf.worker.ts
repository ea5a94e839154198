import { readDxf } from '../io/dxf/read.ts';
import type { FromDxf, ToDxf } from './dxfMessages.ts';

interface WorkerScope {
  onmessage: ((event: MessageEvent<ToDxf>) => void) | null;
  postMessage(message: FromDxf, transfer: Transferable[]): void;
}
const scope = self as unknown as WorkerScope;

scope.onmessage = ({ data }) => {
  const result = readDxf(data.bytes);
  if (!result.ok) return scope.postMessage(result, []);
  const { coords, starts, pathLayers, closed } = result.drawing;
  scope.postMessage(result, [coords.buffer, starts.buffer, pathLayers.buffer, closed.buffer]);
};

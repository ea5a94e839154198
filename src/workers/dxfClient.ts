import type { DxfResult } from '../io/dxf/types.ts';
import type { FromDxf, ToDxf } from './dxfMessages.ts';

/** What reading a DXF may take before its worker is ended, ms. */
export const DXF_PATIENCE = 10_000;

/** Reads a DXF in a worker of its own, which is ended when it answers or takes too long. Never rejects. */
export function readDxfApart(
  bytes: Uint8Array,
  start: () => Worker,
  patience = DXF_PATIENCE,
): Promise<DxfResult> {
  return new Promise((resolve) => {
    const worker = start();
    const done = (result: DxfResult): void => {
      clearTimeout(timer);
      worker.terminate();
      resolve(result);
    };
    const timer = setTimeout(
      () =>
        done({
          ok: false,
          message: `The file takes longer than ${patience / 1000} s to read. Ask for one storey at a time, without references.`,
        }),
      patience,
    );
    worker.onmessage = ({ data }: MessageEvent<FromDxf>) => done(data);
    worker.onerror = () => done({ ok: false, message: 'The drawing could not be read.' });
    worker.postMessage({ bytes } satisfies ToDxf);
  });
}

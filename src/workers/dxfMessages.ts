import type { DxfResult } from '../io/dxf/types.ts';

export interface ToDxf {
  readonly bytes: Uint8Array;
}
export type FromDxf = DxfResult;

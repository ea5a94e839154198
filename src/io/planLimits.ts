import { LARGEST_FILE } from '../document/codec/limits.ts';
import type { AssetType } from '../engine/model/tracing.ts';
import { DXF_LIMITS } from './dxf/types.ts';
import { PDF_LIMITS } from './pdf/types.ts';
import { PICTURE_LIMITS } from './pictures/sniff.ts';
import type { ZipLimits } from './zip/types.ts';

/** How what lies beside a plan is named in its file, how large it may be (bytes), and whether packing makes it smaller. */
export interface PartKind {
  readonly ending: string;
  readonly most: number;
  readonly deflate: boolean;
}

/** Whatever can be brought into a plan can be saved with it: the limits are those of the readers. */
export const PART_KINDS: { readonly [K in AssetType]: PartKind } = {
  'image/png': { ending: 'png', most: PICTURE_LIMITS.bytes, deflate: false },
  'image/jpeg': { ending: 'jpg', most: PICTURE_LIMITS.bytes, deflate: false },
  'image/webp': { ending: 'webp', most: PICTURE_LIMITS.bytes, deflate: false },
  'application/pdf': { ending: 'pdf', most: PDF_LIMITS.bytes, deflate: false },
  'image/vnd.dxf': { ending: 'dxf', most: DXF_LIMITS.bytes, deflate: true },
};

export const PLAN_PART = 'plan.json';
export const PARTS_FOLDER = 'assets/';

const PART_NAME = /^assets\/[0-9a-f]{64}\.([a-z]+)$/;

/** Of a plan saved with its pictures. */
export const PLAN_ZIP: ZipLimits = {
  bytes: 400 * 1024 * 1024,
  parts: 2000,
  ratio: 200,
  largest: (name) => {
    if (name === PLAN_PART) return LARGEST_FILE;
    if (name === PARTS_FOLDER) return 0;
    const ending = PART_NAME.exec(name)?.[1];
    return Object.values(PART_KINDS).find((kind) => kind.ending === ending)?.most ?? null;
  },
};

/** True where a file begins as a zip file does: with its first part, or with the end of an empty one. */
export const isZip = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 &&
  bytes[1] === 0x4b &&
  ((bytes[2] === 3 && bytes[3] === 4) || (bytes[2] === 5 && bytes[3] === 6));

/** How large a plan's file may be, bytes, by how it begins. */
export const largestPlan = (head: Uint8Array): number => (isZip(head) ? PLAN_ZIP.bytes : LARGEST_FILE);

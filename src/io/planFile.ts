import type { Digest } from '../document/codec/file.ts';
import { checkAssets, decodeFile, encodeDocument } from '../document/codec/file.ts';
import { LARGEST_FILE } from '../document/codec/limits.ts';
import type { Decoded, FileProblem } from '../document/types.ts';
import { assetsOf } from '../engine/model/assets.ts';
import type { PlanDocument } from '../engine/model/document.ts';
import type { AssetUse } from '../engine/model/records.ts';
import { isZip, largestPlan, PART_KINDS, PARTS_FOLDER, PLAN_PART, PLAN_ZIP } from './planLimits.ts';
import { readZip } from './zip/read.ts';
import { megabytes } from './zip/types.ts';
import type { ZipPart } from './zip/write.ts';
import { writeZip } from './zip/write.ts';

export { largestPlan };

/** What a file of a plan is called by its ending, for a name and for a file dialog, and its media type. */
export interface FileKind {
  readonly ending: string;
  readonly mediaType: string;
  readonly endings: readonly string[];
}

const TEXT: FileKind = { ending: '.plan.json', mediaType: 'application/json', endings: ['.json'] };
const ZIP: FileKind = { ending: '.plan.zip', mediaType: 'application/zip', endings: ['.zip'] };

export interface Encoded {
  readonly ok: true;
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly kind: FileKind;
  /** How many of the plan's pictures were not given, and so are not in the file. */
  readonly missing: number;
}

/** Why a plan is not written: one plain sentence. */
export interface NotEncoded {
  readonly ok: false;
  readonly message: string;
}

const partName = ({ hash, mediaType }: AssetUse): string =>
  `${PARTS_FOLDER}${hash}.${PART_KINDS[mediaType].ending}`;

/**
 * The file of a plan: its text alone, or with pictures (by SHA-256) a zip file of `plan.json` and
 * `assets/<SHA-256>.<ending>`. Refuses, before anything is packed, what would be too large to open again.
 */
export function encodePlan(doc: PlanDocument, assets: ReadonlyMap<string, Uint8Array>): Encoded | NotEncoded {
  const text = new TextEncoder().encode(encodeDocument(doc));
  if (text.length > LARGEST_FILE) return tooLarge('The plan itself', text.length, LARGEST_FILE);
  const parts: ZipPart[] = [{ name: PLAN_PART, bytes: text, deflate: true }];
  const uses = [...assetsOf(doc).values()];
  for (const use of uses) {
    const bytes = assets.get(use.hash);
    if (!bytes) continue;
    const { most, deflate } = PART_KINDS[use.mediaType];
    if (bytes.length > most) return tooLarge('One of the pictures of the plan', bytes.length, most);
    parts.push({ name: partName(use), bytes, deflate });
  }
  const missing = uses.length - (parts.length - 1);
  if (parts.length === 1) return { ok: true, bytes: text, kind: TEXT, missing };
  const sum = parts.reduce((total, part) => total + part.bytes.length, 0);
  if (sum > PLAN_ZIP.bytes) return tooLarge('The plan with its pictures', sum, PLAN_ZIP.bytes);
  if (parts.length > PLAN_ZIP.parts)
    return { ok: false, message: `The plan has more than ${PLAN_ZIP.parts - 1} pictures.` };
  return { ok: true, bytes: writeZip(parts, PLAN_ZIP.ratio), kind: ZIP, missing };
}

const tooLarge = (what: string, bytes: number, most: number): NotEncoded => ({
  ok: false,
  message: `${what} has ${megabytes(bytes)}; a file that can be opened again holds at most ${megabytes(most)} of it.`,
});

/**
 * Reads a plan's file of either kind, told apart by its bytes and not by its name. A zip file may hold a picture the plan
 * does not use, which is left; whatever else does not belong is refused with its place, and nothing of the file is taken.
 * The pictures still have to be checked against their names with `checkAssets`.
 */
export function decodePlan(bytes: Uint8Array): Decoded {
  if (!isZip(bytes)) return toldOfMissing(decodeFile(bytes));
  const zip = readZip(bytes, PLAN_ZIP);
  if (!zip.ok) return refused(zip.at, zip.message);
  const text = zip.parts.get(PLAN_PART);
  if (!text) return refused(PLAN_PART, 'is missing: the zip file holds no plan');
  const decoded = decodeFile(text);
  if (!decoded.ok) return decoded;
  const uses = assetsOf(decoded.doc);
  const assets = new Map(decoded.assets);
  for (const [name, part] of zip.parts) {
    if (name === PLAN_PART) continue;
    const hash = name.slice(PARTS_FOLDER.length, name.lastIndexOf('.'));
    const use = uses.get(hash);
    if (!use) continue;
    if (partName(use) !== name)
      return refused(
        name,
        `is named as another kind of file than the plan says: it should end in .${PART_KINDS[use.mediaType].ending}`,
      );
    assets.set(hash, part);
  }
  return toldOfMissing({ ...decoded, assets });
}

const refused = (path: string, message: string): Decoded => ({
  ok: false,
  problem: { path, line: null, message },
});

function toldOfMissing(decoded: Decoded): Decoded {
  if (!decoded.ok) return decoded;
  const missing = [...assetsOf(decoded.doc).keys()].filter((hash) => !decoded.assets.has(hash)).length;
  return missing === 0
    ? decoded
    : { ...decoded, said: [decoded.said, missingText(missing)].filter(Boolean).join(' ') };
}

export const missingText = (missing: number): string =>
  missing === 1
    ? 'One picture of the plan is not in the file.'
    : `${missing} pictures of the plan are not in the file.`;

/** Opens what was written as anyone else would: null where it is the same plan, whole, else what is wrong with it. */
export async function readBack(
  written: Encoded,
  doc: PlanDocument,
  digest: Digest,
): Promise<FileProblem | null> {
  const decoded = decodePlan(written.bytes);
  if (!decoded.ok) return decoded.problem;
  if (encodeDocument(decoded.doc) !== encodeDocument(doc))
    return { path: '', line: null, message: 'it reads back as another plan' };
  if (assetsOf(doc).size - decoded.assets.size !== written.missing)
    return { path: '', line: null, message: 'it reads back without some of its pictures' };
  return checkAssets(decoded.assets, digest);
}

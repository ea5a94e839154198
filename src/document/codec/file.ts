import type { PlanDocument } from '../../engine/model/document.ts';
import type { Decoded, FileProblem } from '../types.ts';
import { fromBase64 } from './base64.ts';
import { LARGEST_FILE } from './limits.ts';
import { migrated } from './migrate.ts';
import { textsToCut } from './migrations/cutLongTexts.ts';
import { FORMAT, PLAN_FILE, VERSION } from './planFile.ts';
import { LONGEST_NAME, LONGEST_TEXT, Misread, pathText } from './readers.ts';
import { referenceProblems } from './references.ts';
import { scanJson } from './scan.ts';
import { canonicalJson } from './write.ts';

/** Canonical text of a document: what is hashed, compared, kept on the device and saved. */
export function encodeDocument(doc: PlanDocument): string {
  return canonicalJson(doc);
}

const problem = (path: string, message: string, line: number | null = null): Decoded => ({
  ok: false,
  problem: { path, line, message },
});

/**
 * Reads a plan file, strictly: everything is built anew, field by field, and the first thing that does not hold is told
 * with its place. Older versions are brought up to date; newer ones refused. Pictures still have to be checked against
 * their names with `checkAssets`.
 */
export function decodeFile(input: string | Uint8Array): Decoded {
  if (input.length > LARGEST_FILE)
    return problem('', `the file is larger than ${LARGEST_FILE / 1024 / 1024} MB`);
  const text = typeof input === 'string' ? input.replace(/^\uFEFF/, '') : utf8(input);
  if (text === null) return problem('', 'the file is not text in UTF-8');
  const broken = scanJson(text);
  if (broken) return { ok: false, problem: broken };
  const parsed = JSON.parse(text) as unknown;
  if (typeof parsed !== 'object' || parsed === null || Array.isArray(parsed))
    return problem('', 'the file is not a plan: it should be one record', 1);
  const raw = parsed as Readonly<Record<string, unknown>>;
  if (!Object.hasOwn(raw, 'format') || raw['format'] !== FORMAT)
    return problem('format', `this is not a Zonewright plan: it must be "${FORMAT}"`);
  const version = Object.hasOwn(raw, 'version') ? raw['version'] : undefined;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1)
    return problem('version', 'must be a whole number, 1 or more');
  if (version > VERSION)
    return problem(
      'version',
      `this plan was made by a newer Zonewright (format ${version}); this one reads up to format ${VERSION}`,
    );
  try {
    const long = version === 1 ? textsToCut(raw) : [];
    const decoded = decodeValue(migrated(raw, version));
    return decoded.ok && long.length > 0 ? { ...decoded, said: saidOfCut(long) } : decoded;
  } catch (error) {
    if (error instanceof Misread) return problem(pathText(error.at), error.message);
    throw error;
  }
}

function saidOfCut(places: readonly string[]): string {
  const some = places.slice(0, 5).join(', ');
  const more = places.length > 5 ? ` and ${places.length - 5} more` : '';
  return `Names over ${LONGEST_NAME} characters and notes over ${LONGEST_TEXT} were cut short: ${some}${more}.`;
}

function decodeValue(raw: unknown): Decoded {
  const { assets: pictures, ...doc } = PLAN_FILE.read(raw, null);
  const wrong = referenceProblems(doc);
  const first = wrong[0];
  if (first) {
    const others = wrong.slice(1, 6).map((w) => w.path);
    const more = wrong.length > 6 ? ` and ${wrong.length - 6} more places` : '';
    return problem(
      first.path,
      first.message + (others.length > 0 ? ` (also ${others.join(', ')}${more})` : ''),
    );
  }
  const assets = new Map<string, Uint8Array>();
  for (const [hash, picture] of Object.entries(pictures ?? {})) {
    const bytes = fromBase64(picture.base64);
    if (bytes === null) return problem(`assets.${hash}.base64`, 'must be base64 text');
    assets.set(hash, bytes);
  }
  return { ok: true, doc, assets, said: null };
}

function utf8(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}

/** A problem in one line: `runs.r12.corners[3].z: must be a number, not a text`. */
export function problemText(p: FileProblem): string {
  const where = [p.path, p.line === null ? '' : `line ${p.line}`].filter((part) => part !== '').join(', ');
  return where === '' ? p.message : `${where}: ${p.message}`;
}

/** SHA-256 of bytes as 64 hexadecimal digits. */
export type Digest = (bytes: Uint8Array) => Promise<string>;

/** The first picture whose bytes do not have the SHA-256 it is named by, or null. */
export async function checkAssets(
  assets: ReadonlyMap<string, Uint8Array>,
  digest: Digest,
): Promise<FileProblem | null> {
  for (const [hash, bytes] of assets) {
    if ((await digest(bytes)) !== hash)
      return {
        path: `assets.${hash}`,
        line: null,
        message: 'the picture is damaged: its bytes do not fit its name',
      };
  }
  return null;
}

import { nameProblem } from './names.ts';
import type { ZipLimits } from './types.ts';
import { megabytes, ZipRefused } from './types.ts';

/** One part as the list at the end of the file tells of it (APPNOTE 6.3.10, 4.3.12). */
export interface ZipEntry {
  readonly name: string;
  /** Its sizes stand behind its bytes, not before them. */
  readonly sizesBehind: boolean;
  readonly deflated: boolean;
  readonly crc: number;
  readonly packed: number;
  readonly size: number;
  /** Where its own head begins. */
  readonly offset: number;
}

export interface ZipDirectory {
  readonly entries: readonly ZipEntry[];
  /** Where the parts end and the list begins. */
  readonly start: number;
}

export const SIGNATURE = { part: 0x04034b50, entry: 0x02014b50, end: 0x06054b50 } as const;
const END_BYTES = 22;
const ENTRY_BYTES = 46;
const LONGEST_COMMENT = 0xffff;
/** Stands where a size has no room in 32 bits. */
const NO_ROOM = 0xffffffff;
const FLAG = { locked: 0x0001, sizesBehind: 0x0008, lockedStrongly: 0x0040, lockedList: 0x2000 } as const;
const STORED = 0;
const DEFLATED = 8;

export const viewOf = (bytes: Uint8Array): DataView =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

/** Reads the list of parts, and refuses what the limits do before anything is unpacked. Throws `ZipRefused`. */
export function readDirectory(bytes: Uint8Array, limits: ZipLimits): ZipDirectory {
  if (bytes.length > limits.bytes)
    throw new ZipRefused(
      '',
      `the file has ${megabytes(bytes.length)}; at most ${megabytes(limits.bytes)} are read`,
    );
  const view = viewOf(bytes);
  const end = endOf(view);
  const count = view.getUint16(end + 10, true);
  const size = view.getUint32(end + 12, true);
  const start = view.getUint32(end + 16, true);
  if (count === 0xffff || size === NO_ROOM || start === NO_ROOM)
    throw new ZipRefused('', 'the file is a zip file of the kind for more than 4 GB, which is not read');
  if (view.getUint16(end + 4, true) !== 0 || view.getUint16(end + 8, true) !== count)
    throw new ZipRefused('', 'the zip file is in several pieces, and this is only one of them');
  if (count > limits.parts)
    throw new ZipRefused('', `the zip file has ${count} parts; at most ${limits.parts} are read`);
  if (start + size !== end)
    throw new ZipRefused(
      '',
      'the list of parts is not where the zip file says, or something was put before or after it',
    );
  const entries = readEntries(bytes, { start, end, count }, limits);
  const sum = entries.reduce((total, entry) => total + entry.size, 0);
  if (sum > limits.bytes)
    throw new ZipRefused(
      '',
      `its parts come to ${megabytes(sum)} unpacked; at most ${megabytes(limits.bytes)} are read`,
    );
  return { entries, start };
}

/** Where the record at the very end begins; nothing may follow it. */
function endOf(view: DataView): number {
  const last = view.byteLength - END_BYTES;
  for (let at = last; at >= Math.max(0, last - LONGEST_COMMENT); at--) {
    if (view.getUint32(at, true) !== SIGNATURE.end) continue;
    if (at === last && view.getUint16(at + 20, true) === 0) return at;
    throw new ZipRefused('', `the zip file has ${last - at} bytes after its end that do not belong to it`);
  }
  throw new ZipRefused(
    '',
    'the zip file is cut short: the list of its parts, which stands at its end, is missing',
  );
}

function readEntries(
  bytes: Uint8Array,
  list: { readonly start: number; readonly end: number; readonly count: number },
  limits: ZipLimits,
): ZipEntry[] {
  const view = viewOf(bytes);
  const entries: ZipEntry[] = [];
  const seen = new Set<string>();
  let at = list.start;
  for (let i = 0; i < list.count; i++) {
    if (at + ENTRY_BYTES > list.end || view.getUint32(at, true) !== SIGNATURE.entry)
      throw new ZipRefused('', `the list of parts is damaged at part ${i + 1}`);
    const nameBytes = view.getUint16(at + 28, true);
    const next = at + ENTRY_BYTES + nameBytes + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    if (next > list.end) throw new ZipRefused('', `the list of parts is damaged at part ${i + 1}`);
    const entry = readEntry(view, at, nameOf(bytes, at + ENTRY_BYTES, nameBytes));
    checkEntry(entry, limits);
    if (seen.has(entry.name)) throw new ZipRefused(entry.name, 'is in the zip file twice');
    seen.add(entry.name);
    entries.push(entry);
    at = next;
  }
  if (at !== list.end) throw new ZipRefused('', 'the list of parts has more in it than it says');
  return entries;
}

/** The names that belong are plain ASCII, so that whatever else these bytes mean is refused. */
export const nameOf = (bytes: Uint8Array, at: number, length: number): string =>
  new TextDecoder().decode(bytes.subarray(at, at + length));

function readEntry(view: DataView, at: number, name: string): ZipEntry {
  const flags = view.getUint16(at + 8, true);
  const method = view.getUint16(at + 10, true);
  const wrongName = nameProblem(name);
  if (wrongName !== null) throw new ZipRefused(name.slice(0, 80), wrongName);
  if ((flags & (FLAG.locked | FLAG.lockedStrongly | FLAG.lockedList)) !== 0)
    throw new ZipRefused(name, 'is locked with a password; make the zip file without one');
  if (method !== STORED && method !== DEFLATED)
    throw new ZipRefused(name, `is packed in a way that is not read (method ${method})`);
  return {
    name,
    sizesBehind: (flags & FLAG.sizesBehind) !== 0,
    deflated: method === DEFLATED,
    crc: view.getUint32(at + 16, true),
    packed: view.getUint32(at + 20, true),
    size: view.getUint32(at + 24, true),
    offset: view.getUint32(at + 42, true),
  };
}

function checkEntry(entry: ZipEntry, limits: ZipLimits): void {
  const { name, size, packed } = entry;
  const most = limits.largest(name);
  if (most === null) throw new ZipRefused(name.slice(0, 80), 'does not belong in a plan');
  if (size > most)
    throw new ZipRefused(name, `has ${megabytes(size)} unpacked; at most ${megabytes(most)} are read`);
  if (size > packed * limits.ratio)
    throw new ZipRefused(name, `unpacks to more than ${limits.ratio} times its size, which no plan does`);
  if (!entry.deflated && packed !== size) throw new ZipRefused(name, 'has two different sizes');
}

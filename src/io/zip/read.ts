import { Inflate } from 'fflate';
import { crc32 } from './crc32.ts';
import type { ZipDirectory, ZipEntry } from './directory.ts';
import { nameOf, readDirectory, SIGNATURE, viewOf } from './directory.ts';
import type { ZipLimits, ZipParts, ZipRefusal } from './types.ts';
import { ZipRefused } from './types.ts';

const HEAD_BYTES = 30;
/** Packed bytes handed over at once: they unpack to 17 MB at the very most, so that a lie about sizes is soon noticed. */
const STEP = 16_384;
/** Sizes behind a part's bytes: three or four numbers of 4 bytes, or up to two of 8. */
const MOST_BEHIND = 24;

/**
 * Unpacks a zip file (PKWARE APPNOTE 6.3.10: stored and deflated parts, no more). Goes by the list at its end, holds each
 * part's own head to it, and checks each part's CRC-32. Never unpacks more than the limits allow. Never throws.
 */
export function readZip(bytes: Uint8Array, limits: ZipLimits): ZipParts | ZipRefusal {
  try {
    const directory = readDirectory(bytes, limits);
    const starts = startsOf(bytes, directory);
    const parts = new Map<string, Uint8Array>();
    for (const entry of directory.entries) {
      const start = starts.get(entry) as number;
      const data = unpacked(entry, bytes.subarray(start, start + entry.packed));
      if (!entry.name.endsWith('/')) parts.set(entry.name, data);
    }
    return { ok: true, parts };
  } catch (error) {
    if (error instanceof ZipRefused) return { ok: false, at: error.at, message: error.message };
    throw error;
  }
}

/** Where each part's bytes begin. The parts fill the file from its first byte to the list: none lies over another. */
function startsOf(bytes: Uint8Array, { entries, start: end }: ZipDirectory): ReadonlyMap<ZipEntry, number> {
  const starts = new Map<ZipEntry, number>();
  let at = 0;
  let behind = 0;
  for (const entry of [...entries].sort((a, b) => a.offset - b.offset)) {
    if (entry.offset < at) throw new ZipRefused(entry.name, 'lies over another part of the zip file');
    if (entry.offset > at + behind)
      throw new ZipRefused(entry.name, `has ${entry.offset - at} bytes before it that belong to no part`);
    const start = startOf(bytes, entry, end);
    starts.set(entry, start);
    at = start + entry.packed;
    behind = entry.sizesBehind ? MOST_BEHIND : 0;
  }
  if (end > at + behind)
    throw new ZipRefused('', `the zip file has ${end - at} bytes that belong to no part`);
  return starts;
}

/** Holds the head before a part's bytes to what the list says of it. */
function startOf(bytes: Uint8Array, entry: ZipEntry, end: number): number {
  const view = viewOf(bytes);
  const { name, offset } = entry;
  const broken = new ZipRefused(name, 'is not where the zip file says, or is cut short');
  if (offset + HEAD_BYTES > end || view.getUint32(offset, true) !== SIGNATURE.part) throw broken;
  const nameBytes = view.getUint16(offset + 26, true);
  const start = offset + HEAD_BYTES + nameBytes + view.getUint16(offset + 28, true);
  if (start + entry.packed > end) throw broken;
  const same =
    nameOf(bytes, offset + HEAD_BYTES, nameBytes) === name &&
    (view.getUint16(offset + 8, true) !== 0) === entry.deflated &&
    (entry.sizesBehind ||
      (view.getUint32(offset + 14, true) === entry.crc &&
        view.getUint32(offset + 18, true) === entry.packed &&
        view.getUint32(offset + 22, true) === entry.size));
  if (!same) throw new ZipRefused(name, 'is described in two ways that contradict each other');
  return start;
}

function unpacked(entry: ZipEntry, packed: Uint8Array): Uint8Array {
  // A copy, so that keeping one part does not keep the whole file.
  const data = entry.deflated ? inflated(entry, packed) : packed.slice();
  if (crc32(data) !== entry.crc)
    throw new ZipRefused(entry.name, 'is damaged: its bytes are not those that were saved');
  return data;
}

/** Inflates into exactly the size the list tells: one byte more or less is refused, whatever the packed bytes hold. */
function inflated({ name, size }: ZipEntry, packed: Uint8Array): Uint8Array {
  const out = new Uint8Array(size);
  let at = 0;
  const stream = new Inflate((chunk) => {
    if (at + chunk.length > size) throw new ZipRefused(name, 'unpacks to more than its size');
    out.set(chunk, at);
    at += chunk.length;
  });
  try {
    for (let i = 0; i === 0 || i < packed.length; i += STEP)
      stream.push(packed.subarray(i, i + STEP), i + STEP >= packed.length);
  } catch (error) {
    if (error instanceof ZipRefused) throw error;
    throw new ZipRefused(name, 'is damaged: it cannot be unpacked');
  }
  if (at !== size) throw new ZipRefused(name, 'unpacks to less than its size');
  return out;
}

import { DXF_LIMITS, DxfRefused } from './types.ts';

/** "$DWGCODEPAGE" to the labels of the Encoding Standard; anything else is read as Windows Latin 1. */
const CODE_PAGES: Readonly<Record<string, string>> = {
  ANSI_874: 'windows-874',
  ANSI_932: 'shift_jis',
  ANSI_936: 'gbk',
  ANSI_949: 'euc-kr',
  ANSI_950: 'big5',
  ANSI_1250: 'windows-1250',
  ANSI_1251: 'windows-1251',
  ANSI_1252: 'windows-1252',
  ANSI_1253: 'windows-1253',
  ANSI_1254: 'windows-1254',
  ANSI_1255: 'windows-1255',
  ANSI_1256: 'windows-1256',
  ANSI_1257: 'windows-1257',
  ANSI_1258: 'windows-1258',
};

const startsWith = (bytes: Uint8Array, text: string): boolean =>
  [...text].every((c, i) => bytes[i] === c.charCodeAt(0));

/** Which file this is by its first bytes, where it is one that cannot be read: a sentence with what to ask for. */
export function refusedKind(bytes: Uint8Array): string | null {
  if (bytes.length === 0) return 'The file is empty.';
  if (startsWith(bytes, 'AutoCAD Binary DXF'))
    return 'This is a binary DXF. Ask for the drawing as an ASCII DXF, R12 or newer, or as a PDF.';
  if (/^AC\d{4}$/.test(String.fromCharCode(...bytes.subarray(0, 6))))
    return 'This is a DWG, which only the program that made it can read for certain. Ask for the drawing as an ASCII DXF, R12 or newer, or as a PDF.';
  if (bytes.length > DXF_LIMITS.bytes)
    return `The file is larger than ${DXF_LIMITS.bytes / 1024 / 1024} MB. Ask for one storey at a time, without references.`;
  return null;
}

/**
 * The file's text with LF alone between its lines. UTF-8 where it is (a mark at its start, or every byte fits), else by the
 * code page its header names. Throws `DxfRefused` for kinds that cannot be read.
 */
export function dxfText(bytes: Uint8Array): string {
  const refused = refusedKind(bytes);
  if (refused) throw new DxfRefused(refused);
  return decoded(bytes).replace(/\r\n?/g, '\n');
}

function decoded(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    const head = new TextDecoder('latin1').decode(bytes.subarray(0, 65_536));
    const page = /\$DWGCODEPAGE\s+3\s+(\S+)/.exec(head)?.[1]?.toUpperCase() ?? '';
    return new TextDecoder(CODE_PAGES[page] ?? 'windows-1252').decode(bytes);
  }
}

/** Kinds of drawing that are read besides pictures and plans. */
export type DrawingKind = 'page' | 'lines';

/** First bytes of pictures (PNG, JPEG, WebP), of saved plans with pictures, and of plans. */
const OTHERS = ['\u0089PNG', '\u00ff\u00d8\u00ff', 'RIFF', 'PK\u0003\u0004', '{'];

const latin = (bytes: Uint8Array, to: number): string =>
  String.fromCharCode(...bytes.subarray(0, Math.min(to, bytes.length)));

/**
 * Which kind of drawing a file is, by its bytes; by the ending of its name only where the bytes are of no kind known, so
 * that the reader of that kind says what is wrong. Null for anything else.
 */
export function drawingKind(bytes: Uint8Array, name: string): DrawingKind | null {
  const head = latin(bytes, 1024);
  // Readers of PDF look for the mark within the first kilobyte (ISO 32000, annex on compatibility).
  if (head.includes('%PDF-')) return 'page';
  if (head.startsWith('AutoCAD Binary DXF') || /^AC\d{4}/.test(head)) return 'lines';
  const text = head.replace(/^(ï»¿|\s)+/, '');
  if (/^(999\s*[\r\n][^\r\n]*[\r\n]+\s*)*0\s*[\r\n]+\s*SECTION/.test(text)) return 'lines';
  if (OTHERS.some((start) => text.startsWith(start))) return null;
  if (/\.pdf$/i.test(name)) return 'page';
  return /\.(dxf|dwg)$/i.test(name) ? 'lines' : null;
}

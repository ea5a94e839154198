import type { SourcePoint } from '../../engine/geometry/tracing.ts';
import type { Mm } from '../../engine/model/units.ts';

export type SheetName = 'A4' | 'A3' | 'A2' | 'A1' | 'letter' | 'other';

interface PaperSize {
  readonly width: Mm;
  readonly height: Mm;
}

/** Papers a plan is printed on, long side across. A series: ISO 216; letter: ANSI/ASME Y14.1 size A, 11 by 8.5 inches. */
export const SHEETS: readonly {
  readonly value: SheetName;
  readonly text: string;
  readonly size: PaperSize | null;
}[] = [
  { value: 'A4', text: 'A4, 297 by 210 mm', size: { width: 297, height: 210 } },
  { value: 'A3', text: 'A3, 420 by 297 mm', size: { width: 420, height: 297 } },
  { value: 'A2', text: 'A2, 594 by 420 mm', size: { width: 594, height: 420 } },
  { value: 'A1', text: 'A1, 841 by 594 mm', size: { width: 841, height: 594 } },
  { value: 'letter', text: 'Letter, 11 by 8.5 inches', size: { width: 279.4, height: 215.9 } },
  { value: 'other', text: 'Another size', size: null },
];

/** The paper that has this size, either way up. */
export function sheetNamed({ width, height }: PaperSize): SheetName {
  const [long, short] = [Math.max(width, height), Math.min(width, height)];
  return SHEETS.find((s) => s.size?.width === long && s.size.height === short)?.value ?? 'other';
}

/** The paper the way up it lies on the photograph, by its sides there. */
export function turnedLike(paper: PaperSize, corners: readonly SourcePoint[]): PaperSize {
  const [a, b, c, d] = corners as readonly [SourcePoint, SourcePoint, SourcePoint, SourcePoint];
  const far = (p: SourcePoint, q: SourcePoint): number => Math.hypot(q.x - p.x, q.y - p.y);
  const upright = far(a, b) + far(c, d) < far(b, c) + far(d, a);
  return upright ? { width: paper.height, height: paper.width } : paper;
}

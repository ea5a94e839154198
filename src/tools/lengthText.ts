import type { Mm } from '../engine/model/units.ts';

export type ParsedLength =
  { readonly ok: true; readonly mm: Mm } | { readonly ok: false; readonly reason: string };

const HELP = `Type a length such as 3200, 3.2 m or 10'6".`;
const MM_PER_INCH = 25.4;
const NUMBER = String.raw`\d+(?:\.\d+)?|\.\d+`;
const FRACTION = String.raw`(?:(?:${NUMBER})\s+)?\d+\s*\/\s*\d+|${NUMBER}`;
const METRIC = new RegExp(`^(${NUMBER})\\s*(mm|cm|m)?$`);
const METRES_AND_MM = new RegExp(`^(${NUMBER})\\s*m\\s*(${NUMBER})\\s*(?:mm)?$`);
const IMPERIAL = new RegExp(`^(?:(${NUMBER})\\s*(?:'|ft)\\s*-?)?\\s*(?:(${FRACTION})\\s*(?:"|in)?)?$`);

/**
 * Reads a typed length into mm. A bare number is mm; `m`, `cm` and `mm` are understood, a decimal comma too, and feet
 * and inches as 10'6", 10ft 6in, 6" or 10' 6 1/2". 3,200 without `m` is three thousand two hundred.
 * Conversion: 1 inch = 25.4 mm exactly (BS 350 / ISO 80000).
 */
export function parseLength(text: string): ParsedLength {
  let rest = text
    .trim()
    .toLowerCase()
    .replaceAll(/[′’`]/g, "'")
    .replaceAll(/[″”“]|''/g, '"')
    .replaceAll('−', '-');
  if (rest === '') return { ok: false, reason: HELP };
  let sign = 1;
  if (/^[-+]/.test(rest)) {
    if (rest.startsWith('-')) sign = -1;
    rest = rest.slice(1).trim();
  }
  rest = rest
    .replaceAll(/feet|foot/g, 'ft')
    .replaceAll(/inches|inch/g, 'in')
    .replaceAll(/metres?|meters?/g, 'm')
    .replaceAll(/(\d)[\s\u00a0\u202f](?=\d{3}(?!\d|\s*\/))/g, '$1');
  const metres = /\dm$|\d\s+m$/.test(rest);
  rest = metres ? rest.replace(',', '.') : rest.replaceAll(/,(?=\d{3}(?:\D|$))/g, '').replace(',', '.');
  const mm = metric(rest) ?? imperial(rest);
  if (mm === null) return { ok: false, reason: HELP };
  if (!Number.isFinite(mm) || mm > 1e7) return { ok: false, reason: 'That is longer than a plan can be.' };
  return { ok: true, mm: sign * mm };
}

function metric(text: string): Mm | null {
  const both = METRES_AND_MM.exec(text);
  if (both) return tidy(Number(both[1]) * 1000 + Number(both[2]));
  const found = METRIC.exec(text);
  if (!found) return null;
  return tidy(Number(found[1]) * (found[2] === 'm' ? 1000 : found[2] === 'cm' ? 10 : 1));
}

function imperial(text: string): Mm | null {
  const found = IMPERIAL.exec(text);
  if (!found || (found[1] === undefined && found[2] === undefined)) return null;
  const inches = found[2] === undefined ? 0 : fraction(found[2]);
  return inches === null ? null : tidy((Number(found[1] ?? 0) * 12 + inches) * MM_PER_INCH);
}

function fraction(text: string): number | null {
  const slash = text.indexOf('/');
  if (slash < 0) return Number(text);
  const below = Number(text.slice(slash + 1));
  const before = text.slice(0, slash).trim().split(/\s+/);
  if (below === 0) return null;
  const whole = before.length === 2 ? Number(before[0]) : 0;
  return whole + Number(before[before.length - 1]) / below;
}

/** Takes binary dust off: 3.2 m is 3200 mm, not 3200.0000000000005. */
function tidy(mm: number): Mm {
  return Math.round(mm * 1e6) / 1e6;
}

/** "3 400 mm": whole millimetres in groups of three, for labels. */
export function mmText(length: Mm): string {
  return `${grouped(length)} mm`;
}

/** "3 400". */
export function grouped(length: Mm): string {
  const whole = Math.round(Math.abs(length));
  const digits = String(whole).replaceAll(/\B(?=(\d{3})+$)/g, ' ');
  return length < 0 && whole !== 0 ? `-${digits}` : digits;
}

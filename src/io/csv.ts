/** A cell: text from people or the plan, a number that stays a number, or nothing. */
export type CsvCell = string | number | null;

/** What spreadsheets skip before they look whether a cell is a formula: blanks of all widths and marks of no width. */
const LEADING =
  '[ \\u00a0\\u1680\\u2000-\\u200f\\u2028-\\u202f\\u205f-\\u2064\\u3000\\ufeff\\u0000-\\u0008\\u000b\\u000c\\u000e-\\u001f]*';
const FORMULA = new RegExp(`^${LEADING}[=+\\-@\\t\\r\\n\\uff1d\\uff0b\\uff0d\\uff20\\uff05]`);
const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;
const NEEDS_QUOTES = /[",;'\t\r\n]|^\s|\s$|^$/;

/**
 * Text made harmless to a spreadsheet: an apostrophe before each line that it might take for a formula (= + - @, tab,
 * carriage return, line feed, their full-width forms, also behind leading blanks). NUL and lone surrogates, which no
 * file of UTF-8 can carry on, become U+FFFD.
 */
export function neutralText(text: string): string {
  const sound = text.replaceAll('\u0000', '\ufffd').replace(LONE_SURROGATE, '\ufffd');
  const safe = FORMULA.test(sound) ? `'${sound}` : sound;
  // The first line is seen to; each further one stands behind its line break.
  return safe.replaceAll(/(\r\n|\r|\n)([^\r\n]+)/g, (_, end: string, line: string) =>
    FORMULA.test(line) ? `${end}'${line}` : `${end}${line}`,
  );
}

/** A number in plain digits: no exponent, no minus before nought. */
function plainNumber(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`a cell of a table cannot be ${value}`);
  const short = String(value === 0 ? 0 : value);
  if (/^-?\d+(\.\d+)?$/.test(short)) return short;
  if (Math.abs(value) >= 1) return BigInt(value).toString();
  return value.toFixed(20).replace(/\.?0+$/, '');
}

function cellText(cell: CsvCell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return plainNumber(cell);
  const text = neutralText(cell);
  return NEEDS_QUOTES.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/**
 * A table as CSV: UTF-8 with a byte order mark, commas, CRLF after each row, quotes where needed. Text that a
 * spreadsheet would run as a formula is made harmless; typed numbers stay numbers. Numbers must be finite.
 */
export function toCsv(rows: readonly (readonly CsvCell[])[]): string {
  return `\ufeff${rows.map((row) => `${row.map(cellText).join(',')}\r\n`).join('')}`;
}

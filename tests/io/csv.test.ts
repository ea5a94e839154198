import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { neutralText, toCsv } from '../../src/io/csv.ts';

/** A plain reader of RFC 4180 text, to see that what was written comes back. */
function readCsv(text: string): string[][] {
  expect(text.startsWith('\ufeff')).toBe(true);
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = '';
  let quoted = false;
  for (let i = 1; i < text.length; i++) {
    const c = text[i] as string;
    if (quoted) {
      if (c !== '"') cell += c;
      else if (text[i + 1] === '"') cell += text[++i];
      else quoted = false;
    } else if (c === '"') quoted = true;
    else if (c === ',') {
      row.push(cell);
      cell = '';
    } else if (c === '\r' && text[i + 1] === '\n') {
      rows.push([...row, cell]);
      row = [];
      cell = '';
      i++;
    } else cell += c;
  }
  return rows;
}

// The list of spreadsheet formula starts: OWASP "CSV Injection" (= + - @ tab, CR, and LF), full-width forms beside.
describe('text that a spreadsheet might run', () => {
  it.each([
    ['=HYPERLINK("x")', `'=HYPERLINK("x")`],
    ['+1', `'+1`],
    ['-1', `'-1`],
    ['@SUM(A1)', `'@SUM(A1)`],
    ['\t=1', `'\t=1`],
    ['\tplain', `'\tplain`],
    ['\r=1', `'\r'=1`],
    ['\n=1', `'\n'=1`],
    [' =1', `' =1`],
    ['\u00a0\u00a0=1', `'\u00a0\u00a0=1`],
    ['\u200b=1', `'\u200b=1`],
    ['\u3000＝1', `'\u3000＝1`],
    ['＝1', `'＝1`],
    ['＋1', `'＋1`],
    ['－1', `'－1`],
    ['＠x', `'＠x`],
    ['％=1', `'％=1`],
    ['a\n=1', `a\n'=1`],
    ['a\r\n =1\nb\n-2', `a\r\n' =1\nb\n'-2`],
    ['a\n\n=1', `a\n\n'=1`],
  ])('%j becomes harmless', (text, safe) => {
    expect(neutralText(text)).toBe(safe);
    expect(readCsv(toCsv([[text]]))).toEqual([[safe]]);
  });

  it.each(['Sink =', '12 - 3', 'R17', "owner's", '5 %', 'a@b', 'line\nline', 'ü „Ofen“'])(
    '%j stays as it is',
    (text) => {
      expect(neutralText(text)).toBe(text);
      expect(readCsv(toCsv([[text]]))).toEqual([[text]]);
    },
  );

  it('leaves no line of any cell that starts as a formula', () => {
    const piece = fc.constantFrom(
      '=',
      '+',
      '-',
      '@',
      '＝',
      '％',
      ' ',
      '\u00a0',
      '\t',
      '\n',
      '\r',
      '\r\n',
      'a',
      '1',
      '"',
      ',',
      ';',
      '\u200b',
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 8 }), (pieces) => {
        const [[cell = ''] = []] = readCsv(toCsv([[pieces.join('')]]));
        for (const line of cell.split(/\r\n|\r|\n/)) {
          expect(line.replace(/^[\s\u00a0\u200b]+/, '')).not.toMatch(/^[=+\-@＝＋－＠％]/);
        }
      }),
      { seed: 64, numRuns: 2000 },
    );
  });
});

describe('cells', () => {
  it('keeps typed numbers numbers, negative ones too', () => {
    expect(toCsv([[-12.5, 0, -0, 1e21, 1.5e-7, -2e-9, 17]])).toBe(
      '\ufeff-12.5,0,0,1000000000000000000000,0.00000015,-0.000000002,17\r\n',
    );
  });

  it('throws for a number that is none', () => {
    expect(() => toCsv([[NaN]])).toThrow(RangeError);
    expect(() => toCsv([[Infinity]])).toThrow('Infinity');
  });

  it('brings quotes, semicolons, commas, newlines and per cents back exactly', () => {
    const name = 'Bay "2"; 5 %, left\nof the door\r\nand over';
    expect(
      readCsv(
        toCsv([
          [name, 'x', null],
          ['', 3],
        ]),
      ),
    ).toEqual([
      [name, 'x', ''],
      ['', '3'],
    ]);
  });

  it('starts with a byte order mark, ends rows with CRLF, and an empty table is the mark alone', () => {
    expect(toCsv([['a'], ['b', 'c']])).toBe('\ufeffa\r\nb,c\r\n');
    expect(toCsv([])).toBe('\ufeff');
  });

  it('replaces what UTF-8 cannot carry', () => {
    expect(neutralText('a\ud800b\u0000\udc00')).toBe('a\ufffdb\ufffd\ufffd');
    expect(neutralText('\ud83d\ude00')).toBe('\ud83d\ude00');
  });
});

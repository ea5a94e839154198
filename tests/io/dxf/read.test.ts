import { readFileSync } from 'node:fs';
import path from 'node:path';
import Drawing from 'dxf-writer';
import { describe, expect, it } from 'vitest';
import { readDxf } from '../../../src/io/dxf/read.ts';
import type { LineDrawing } from '../../../src/io/lineDrawing.ts';
import { freshSeed, seeded } from '../../random.ts';

const MADE = path.join(import.meta.dirname, 'made');
const EXPECTED = JSON.parse(readFileSync(path.join(MADE, 'expected.json'), 'utf8')) as Record<
  string,
  { length: number; lines: number }
>;
const stored = (name: string): Uint8Array => readFileSync(path.join(MADE, `${name}.dxf`));
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

function read(input: Uint8Array | string): LineDrawing {
  const result = readDxf(typeof input === 'string' ? bytes(input) : input);
  if (!result.ok) throw new Error(result.message);
  return result.drawing;
}

function refusal(input: Uint8Array | string): string {
  const result = readDxf(typeof input === 'string' ? bytes(input) : input);
  return result.ok ? '' : result.message;
}

/** Sum of the lengths of all paths. */
function lengthOf(d: LineDrawing): number {
  let sum = 0;
  for (let i = 0; i + 1 < d.starts.length; i++) {
    const [from, to] = [d.starts[i] as number, d.starts[i + 1] as number];
    const at = (k: number) => [d.coords[2 * k] as number, d.coords[2 * k + 1] as number] as const;
    for (let k = from; k + 1 < to; k++) sum += Math.hypot(at(k + 1)[0] - at(k)[0], at(k + 1)[1] - at(k)[1]);
    if (d.closed[i]) sum += Math.hypot(at(from)[0] - at(to - 1)[0], at(from)[1] - at(to - 1)[1]);
  }
  return sum;
}

/** A file of one ENTITIES section. */
const file = (...entities: string[]): string =>
  ['0', 'SECTION', '2', 'ENTITIES', ...entities, '0', 'ENDSEC', '0', 'EOF', ''].join('\n');
const line = (x0: number | string, y0: number, x1: number, y1: number, layer = 'A'): string =>
  `0\nLINE\n8\n${layer}\n10\n${x0}\n20\n${y0}\n11\n${x1}\n21\n${y1}`;
const withBlocks = (blocks: string, entities: string): string =>
  `0\nSECTION\n2\nBLOCKS\n${blocks}\n0\nENDSEC\n${file(entities)}`;
const block = (name: string, body: string): string =>
  `0\nBLOCK\n2\n${name}\n10\n0\n20\n0\n${body}\n0\nENDBLK`;
const insert = (name: string, more = ''): string => `0\nINSERT\n2\n${name}\n10\n0\n20\n0${more}`;

describe('a DXF file', () => {
  // Arcs are drawn in pieces of 5°: a chord is 0.03 % shorter than its arc.
  for (const [name, { length, lines }] of Object.entries(EXPECTED))
    it(`${name}: as many lines, and as long, as ezdxf makes of it`, () => {
      const d = read(stored(name));
      expect(d.starts.length - 1).toBe(lines);
      expect(lengthOf(d) / length).toBeGreaterThan(0.999);
      expect(lengthOf(d) / length).toBeLessThan(1.0001);
    });

  it('the same plan in any version has the same lines to the thousandth', () => {
    const [a, b] = [read(stored('rooms-r12')), read(stored('rooms-r2018'))];
    expect(b.box.x1 - b.box.x0).toBeCloseTo(7200, 6);
    expect(lengthOf(a)).toBeCloseTo(lengthOf(b), 6);
    expect(a.layers.map((l) => l.name).sort()).toEqual(['DOORS', 'OPENINGS', 'WALLS']);
  });

  it('says the unit its header claims, and leaves the lie to be found by a known length', () => {
    const d = read(stored('rooms-metres-says-inches'));
    expect(d.unit).toBe('in');
    expect(d.box.x1 - d.box.x0).toBeCloseTo(7.2, 9);
  });

  it('recentres huge coordinates, and tells what it left out', () => {
    const d = read(stored('everything-r2018'));
    expect(Math.abs(d.origin.x - 4_500_000)).toBeLessThan(5000);
    expect(Math.max(...d.coords.map(Math.abs))).toBeLessThan(20_000);
    expect(
      d.layers
        .filter((l) => !l.shown)
        .map((l) => l.name)
        .sort(),
    ).toEqual(['FROZEN', 'OFF']);
    expect(d.leftOut).toEqual([
      { what: 'filled areas', count: 1 },
      { what: 'single points', count: 1 },
    ]);
    expect(d.texts.map((t) => t.text)).toEqual(['Küche']);
    // What lies on layer 0 of a block takes the layer it is put on; what has a layer keeps it.
    expect(d.layers.map((l) => l.name)).toEqual(expect.arrayContaining(['KNOBS', 'OPENINGS']));
  });

  it('reads what dxf-writer (npm) writes', () => {
    const drawing = new Drawing();
    drawing.addLayer('walls', Drawing.ACI.GREEN, 'CONTINUOUS');
    drawing.setActiveLayer('walls');
    drawing.drawLine(0, 0, 3000, 4000);
    drawing.drawPolyline([
      [0, 0],
      [1000, 0],
      [1000, 500],
    ]);
    drawing.drawArc(0, 0, 1000, 0, 90);
    const d = read(drawing.toDxfString());
    expect(lengthOf(d)).toBeCloseTo(5000 + 1500 + (1000 * Math.PI) / 2, -1);
    expect(d.layers.map((l) => l.name)).toEqual(['walls']);
  });

  it('keeps strays far off out of the main part', () => {
    const many = Array.from({ length: 200 }, (_, i) => line(i * 10, 0, i * 10, 3000));
    const d = read(file(...many, line(9e6, 9e6, 9e6 + 10, 9e6)));
    expect(d.box.x1 - d.box.x0).toBeGreaterThan(8e6);
    expect(d.mainBox.x1 - d.mainBox.x0).toBeLessThan(10_000);
  });
});

// Rows 41 to 53 of the list of hostile inputs: R refused with a reason, T what is good is taken, S literal.
describe('a hostile DXF file', () => {
  it('empty, or text that is none', () => {
    expect(refusal('')).toMatch(/empty/);
    expect(refusal('Dear builder,\nplease find attached\n')).toMatch(/No line was found/);
    expect(refusal(file())).toMatch(/No line was found/);
  });
  it('binary, or a DWG under another name', () => {
    expect(refusal('AutoCAD Binary DXF\r\n\u001a\0')).toMatch(/binary DXF\. Ask for/);
    expect(refusal('AC1032\0\0\0\0')).toMatch(/DWG.*Ask for/);
  });
  it('cut, without EOF, or of an odd number of lines: up to the last whole thing', () => {
    const whole = file(line(0, 0, 1000, 0), line(0, 0, 0, 500), line(0, 0, 1, 1));
    const cut = whole.slice(0, whole.lastIndexOf('LINE') + 20);
    expect(lengthOf(read(cut))).toBeCloseTo(1500, 9);
    expect(lengthOf(read(whole.replace(/\n0\nENDSEC[^]*/, '\n0\nENDSEC\n0')))).toBeGreaterThan(1500);
  });
  it('with CR alone, mixed line ends, a mark at its start, Windows letters', () => {
    const good = file(line(0, 0, 1000, 0, 'W'));
    for (const text of [good.replaceAll('\n', '\r'), good.replaceAll('\n', '\r\n'), `\uFEFF${good}`])
      expect(lengthOf(read(text))).toBe(1000);
    const raw = new Uint8Array([...file(line(0, 0, 1, 0, 'K\u00fcche'))].map((c) => c.charCodeAt(0)));
    expect(read(raw).layers[0]?.name).toBe('Küche');
  });
  it('a block that holds itself, or another that holds it', () => {
    expect(refusal(withBlocks(block('A', insert('A')), insert('A')))).toMatch(/"A" holds itself/);
    const two = withBlocks(block('A', insert('B')) + '\n' + block('B', insert('A')), insert('A'));
    expect(refusal(two)).toMatch(/holds itself/);
  });
  it('blocks in blocks that come to ten million, or lie too deep', () => {
    const ten = (name: string, of: string) =>
      block(name, Array.from({ length: 10 }, () => insert(of)).join('\n'));
    const blocks = [block('L', Array.from({ length: 10 }, () => line(0, 0, 1, 1)).join('\n'))];
    for (let i = 0; i < 6; i++) blocks.push(ten(`B${i}`, i === 0 ? 'L' : `B${i - 1}`));
    expect(refusal(withBlocks(blocks.join('\n'), insert('B5')))).toMatch(/more than 1,000,000/);
    const deep = [block('D0', line(0, 0, 1, 1))];
    for (let i = 1; i < 12; i++) deep.push(block(`D${i}`, insert(`D${i - 1}`)));
    expect(refusal(withBlocks(deep.join('\n'), insert('D11')))).toMatch(/8 deep/);
  });
  it('an array of ten thousand rows and columns', () => {
    const text = withBlocks(block('A', line(0, 0, 1, 1)), insert('A', '\n70\n10000\n71\n10000'));
    expect(refusal(text)).toMatch(/10000 rows of 10000/);
  });
  it('a polyline that claims four thousand million points', () => {
    const text = file('0\nLWPOLYLINE\n8\nA\n90\n4000000000\n70\n0\n10\n0\n20\n0\n10\n300\n20\n400');
    expect(lengthOf(read(text))).toBe(500);
  });
  it('layers and blocks called __proto__ and constructor', () => {
    const text = withBlocks(
      block('__proto__', line(0, 0, 30, 40, 'constructor')),
      insert('__proto__') + '\n' + line(0, 0, 100, 0, '__proto__'),
    );
    const d = read(text);
    expect(lengthOf(d)).toBe(150);
    expect(d.layers.map((l) => l.name).sort()).toEqual(['__proto__', 'constructor']);
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  });
  it('numbers that are none: the thing is dropped and counted, the rest is read', () => {
    for (const bad of ['1e308', '1e400', 'NaN', 'Infinity', '0x10', '12abc', '']) {
      const d = read(file(line(bad, 0, 5, 5), line(0, 0, 3, 4)));
      expect(lengthOf(d), bad).toBe(5);
      expect(d.leftOut, bad).toEqual([{ what: 'things with a number that is none or too large', count: 1 }]);
    }
  });
  it('radius nought, equal ends, enormous bulges, a spline of one point', () => {
    const d = read(
      file(
        line(0, 0, 3, 4),
        '0\nCIRCLE\n8\nA\n10\n0\n20\n0\n40\n0',
        '0\nLWPOLYLINE\n8\nA\n70\n0\n10\n0\n20\n0\n42\n1000000000\n10\n6\n20\n8',
        '0\nSPLINE\n8\nA\n71\n3\n10\n0\n20\n0',
        line(7, 7, 7, 7),
      ),
    );
    expect(lengthOf(d)).toBe(15);
    expect(d.leftOut.map((l) => l.what)).toEqual(['curves of no size', 'curves that make no shape']);
  });
  it('no unit is guessed where none is said', () => {
    expect(read(file(line(0, 0, 1, 1))).unit).toBeNull();
  });
  it('200,000 lines', () => {
    const many = Array.from({ length: 200_000 }, (_, i) => line(i, 0, i, 1000));
    expect(read(file(many.join('\n'))).starts.length - 1).toBe(200_000);
  });
});

it('300 damaged files: lines or a sentence, nothing else', () => {
  const seed = freshSeed('dxf');
  const random = seeded(seed);
  const originals = ['everything-r2018', 'rooms-r12'].map((n) => stored(n));
  for (let i = 0; i < 300; i++) {
    const copy = Uint8Array.from(originals[i % 2] as Uint8Array);
    for (let k = 0; k < 1 + random() * 12; k++) {
      const at = Math.floor(random() * copy.length);
      const how = random();
      if (how < 0.5) copy[at] = Math.floor(random() * 256);
      else copy.copyWithin(at, Math.floor(random() * copy.length), Math.floor(random() * copy.length));
    }
    const part = random() < 0.2 ? copy.subarray(0, Math.floor(random() * copy.length)) : copy;
    const result = readDxf(part);
    if (result.ok) {
      expect(result.drawing.coords.every(Number.isFinite), `seed ${seed}, file ${i}`).toBe(true);
      expect(result.drawing.starts.at(-1)).toBe(result.drawing.coords.length / 2);
    } else expect(result.message.length).toBeGreaterThan(10);
  }
});

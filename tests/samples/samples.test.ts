import { readFileSync } from 'node:fs';
import { PNG } from 'pngjs';
import { describe, expect, test } from 'vitest';
import { decodeFile, encodeDocument, problemText } from '../../src/document/codec/file.ts';
import { rows } from '../../src/engine/model/tables.ts';
import { sniffPicture } from '../../src/io/pictures/sniff.ts';
import { PAPER, px, py } from './paperPlan.ts';
import { sampleFiles } from './sampleFiles.ts';
import { makeStudio } from './studio.ts';

const stored = (name: string): Buffer => readFileSync(new URL(`../../sample-plans/${name}`, import.meta.url));

describe.each([...sampleFiles()])('%s', (name, doc) => {
  const text = stored(name).toString('utf8');

  test('is what makeStudio.ts writes', () => {
    expect(text).toBe(encodeDocument(doc));
  });

  test('opens, and is written back byte for byte', () => {
    const decoded = decodeFile(text);
    if (!decoded.ok) throw new Error(problemText(decoded.problem));
    expect(encodeDocument(decoded.doc)).toBe(text);
  });

  test('says that it is invented', () => {
    expect(doc.job.notes).toMatch(/^Everything in this plan is invented/);
    expect(doc.job.title).toContain('(invented)');
  });
});

describe('the studio', () => {
  test('has a sockets ring back to the board, a kiln radial of its own and every kind of wall', () => {
    const { doc } = makeStudio();
    expect(new Set(rows(doc.walls).map((w) => w.buildUp))).toEqual(
      new Set(['timber-void', 'block-plaster', 'metal-stud', 'timber-stud']),
    );
    const kiln = rows(doc.circuits).filter((c) => c.cable === 'te10');
    expect(kiln.map((c) => [c.name, c.device])).toEqual([['Kiln', { type: 'C', rating: 40, rcd: 30 }]]);
    const board = rows(doc.points).find((p) => p.kind === 'consumer-unit')?.id;
    const ring = rows(doc.circuits).find((c) => c.topology === 'ring')?.id;
    const atBoard = rows(doc.runs).filter((r) => r.circuit === ring && (r.from === board || r.to === board));
    expect(atBoard).toHaveLength(2);
  });
});

describe('pottery-studio-plan.png', () => {
  const bytes = stored('pottery-studio-plan.png');
  const picture = PNG.sync.read(bytes);
  const dark = (x: number, y: number): boolean => {
    const at = (Math.round(y) * picture.width + Math.round(x)) * 4;
    return (picture.data[at] as number) < 128;
  };

  /** Pixels from `start` on while it is light, in steps of one pixel. */
  function clear(x: number, y: number, dx: number, dy: number): number {
    let n = 0;
    while (!dark(x + n * dx, y + n * dy)) n += 1;
    return n;
  }

  test('is a PNG of the stated size', () => {
    expect(sniffPicture(bytes)).toMatchObject({ ok: true, width: PAPER.width, height: PAPER.height });
  });

  test('is true to scale both ways, measured on its pixels', () => {
    // Across the kiln bay (5366 to 8600) and down it (2700 to 4700), clear of the kiln and the window.
    const at = { x: Math.round(px(7000)), y: Math.round(py(3000)) };
    const across = clear(at.x, at.y, 1, 0) + clear(at.x, at.y, -1, 0) - 1;
    const kiln = (6350 - 5366) / PAPER.mmPerPixel;
    expect(Math.abs(across - ((8600 - 5366) / PAPER.mmPerPixel - kiln))).toBeLessThanOrEqual(2);
    const down = clear(at.x, at.y, 0, 1) + clear(at.x, at.y, 0, -1) - 1;
    expect(Math.abs(down - (4700 - 2700) / PAPER.mmPerPixel)).toBeLessThanOrEqual(2);
  });

  test('has a light, faintly warm paper tone', () => {
    const [r, g, b] = [...picture.data.subarray(0, 3)] as [number, number, number];
    expect([r > 235, g > 230, b < r]).toEqual([true, true, true]);
  });
});

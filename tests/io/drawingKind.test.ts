import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { drawingKind } from '../../src/io/drawingKind.ts';

const bytes = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0));

describe('which kind of drawing a file is', () => {
  it.each([
    ['a PDF called a picture', '%PDF-1.7\n', 'plan.png', 'page'],
    ['a PDF after some rubbish', 'xx\r\n%PDF-1.4', 'plan', 'page'],
    ['a DXF with LF', '  0\nSECTION\n  2\nHEADER\n', 'plan.txt', 'lines'],
    ['a DXF with CR alone', '0\rSECTION\r2\rENTITIES\r', 'plan', 'lines'],
    ['a DXF with a mark of its encoding', '\u00ef\u00bb\u00bf0\r\nSECTION', 'plan', 'lines'],
    ['a DXF that starts with a remark', '999\nmade by hand\n0\nSECTION\n', 'plan', 'lines'],
    ['a binary DXF', 'AutoCAD Binary DXF\r\n\u001a\u0000', 'plan', 'lines'],
    ['a DWG called a DXF', 'AC1032\u0000', 'plan.dxf', 'lines'],
    ['text called a DXF', 'Dear Sir', 'plan.DXF', 'lines'],
    ['text called a PDF', 'Dear Sir', 'plan.pdf', 'page'],
    ['a picture called a PDF', '\u0089PNG\r\n', 'plan.pdf', null],
    ['a plan called a DXF', '  {"format": 1}', 'plan.dxf', null],
    ['text', 'Dear Sir', 'letter.txt', null],
    ['nothing', '', 'plan', null],
  ] as const)('%s', (_, text, name, kind) => expect(drawingKind(bytes(text), name)).toBe(kind));

  it.each(['rooms-r12', 'rooms-r2000', 'rooms-r2018'])('%s of another library', (name) => {
    expect(drawingKind(readFileSync(`tests/io/dxf/made/${name}.dxf`), 'drawing')).toBe('lines');
  });
});

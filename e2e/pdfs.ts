import { PDFDocument, PDFName, PDFString, StandardFonts, rgb } from 'pdf-lib';

/** mm of paper in points. */
export const paper = (mm: number): number => (mm * 72) / 25.4;

/** An A3 sheet at 1:50 with one room of 8.6 by 4.7 m inside walls of 250 mm: its outer corner 60 mm from left and top. */
export const ROOM = { left: 60, top: 60, width: 9100 / 50, height: 5200 / 50, wall: 250 / 50 } as const;

/** That sheet, drawn as lines by pdf-lib (npm), after a page of text; `scaled` prints it smaller on a smaller sheet. */
export async function roomPdf(scaled = 1): Promise<Uint8Array> {
  const doc = await PDFDocument.create();
  const font = await doc.embedFont(StandardFonts.Helvetica);
  doc.addPage([paper(210), paper(297)]).drawText('Notes for the builder', { x: 60, y: 700, size: 14, font });
  const [width, height] = [paper(420) * scaled, paper(297) * scaled];
  const page = doc.addPage([width, height]);
  const ink = rgb(0, 0, 0);
  const box = (left: number, top: number, w: number, h: number): void =>
    page.drawRectangle({
      x: paper(left) * scaled,
      y: height - paper(top + h) * scaled,
      width: paper(w) * scaled,
      height: paper(h) * scaled,
      borderColor: ink,
      borderWidth: 0.7,
    });
  const { left, top, wall } = ROOM;
  box(left, top, ROOM.width, ROOM.height);
  box(left + wall, top + wall, ROOM.width - 2 * wall, ROOM.height - 2 * wall);
  page.drawText('Pottery, ground floor. Scale 1:50 @ A3', { x: 40, y: 30, size: 9, font });
  return doc.save();
}

/** A sheet with a red and a blue square, each on its own layer, the blue one off (optional content, ISO 32000 8.11). */
export async function layeredPdf(): Promise<Uint8Array> {
  const doc = await PDFDocument.create();
  const page = doc.addPage([300, 200]);
  const { context } = doc;
  const layer = (name: string) => context.register(context.obj({ Type: 'OCG', Name: PDFString.of(name) }));
  const [red, blue] = [layer('Walls'), layer('Furniture')];
  doc.catalog.set(
    PDFName.of('OCProperties'),
    context.obj({ OCGs: [red, blue], D: { Order: [red, blue], OFF: [blue] } }),
  );
  page.node.set(PDFName.of('Resources'), context.obj({ Properties: { R: red, B: blue } }));
  const stream = context.stream(
    '/OC /R BDC 1 0 0 RG 20 20 100 100 re S EMC /OC /B BDC 0 0 1 RG 150 20 100 100 re S EMC',
  );
  page.node.set(PDFName.of('Contents'), context.register(stream));
  return doc.save();
}

/** One page whose content, entries and size are given; other objects by their number. */
export function rawPdf(parts: {
  readonly box?: string;
  readonly content?: string;
  readonly page?: string;
  readonly catalog?: string;
  readonly pages?: string;
  readonly more?: readonly string[];
}): Uint8Array {
  const content = parts.content ?? '0 0 50 50 re f';
  const objects = [
    `<< /Type /Catalog /Pages 2 0 R ${parts.catalog ?? ''} >>`,
    parts.pages ?? '<< /Type /Pages /Kids [3 0 R] /Count 1 >>',
    `<< /Type /Page /Parent 2 0 R /MediaBox [${parts.box ?? '0 0 300 200'}] /Contents 4 0 R ${parts.page ?? ''} >>`,
    `<< /Length ${content.length} >>\nstream\n${content}\nendstream`,
    ...(parts.more ?? []),
  ];
  let text = '%PDF-1.7\n';
  const places = objects.map((object, i) => {
    const at = text.length;
    text += `${i + 1} 0 obj\n${object}\nendobj\n`;
    return at;
  });
  const start = text.length;
  const rows = places.map((at) => `${String(at).padStart(10, '0')} 00000 n \n`).join('');
  text += `xref\n0 ${objects.length + 1}\n0000000000 65535 f \n${rows}`;
  text += `trailer\n<< /Size ${objects.length + 1} /Root 1 0 R >>\nstartxref\n${start}\n%%EOF\n`;
  return Uint8Array.from(text, (c) => c.charCodeAt(0));
}

/** A page that is nothing but a picture in one of the codes of scans. */
export function scanPdf(
  bytes: Uint8Array,
  filter: string,
  width: number,
  height: number,
  more: string,
): Uint8Array {
  const hex = [...bytes].map((b) => b.toString(16).padStart(2, '0')).join('');
  const image = `<< /Type /XObject /Subtype /Image /Width ${width} /Height ${height} ${more} /Filter [/ASCIIHexDecode ${filter}] /Length ${hex.length + 1} >>\nstream\n${hex}>\nendstream`;
  return rawPdf({
    box: `0 0 ${width} ${height}`,
    content: `q ${width} 0 0 ${height} 0 0 cm /I Do Q`,
    page: '/Resources << /XObject << /I 5 0 R >> >>',
    more: [image],
  });
}

/** A document of so many empty pages. */
export async function manyPages(pages: number): Promise<Uint8Array> {
  const doc = await PDFDocument.create();
  for (let i = 0; i < pages; i++) doc.addPage([200, 200]);
  return doc.save();
}

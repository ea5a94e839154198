import type { Opening, PlanDocument, Wall } from '../../src/engine/model/document.ts';
import { rows } from '../../src/engine/model/tables.ts';

/**
 * The "paper plan" of the studio as a picture to trace: 2000 x 1300 px, 6 mm to the pixel, the inner north-west corner
 * (plan 0,0) at pixel (270, 240). Drawn from the sample, so what is traced can be compared with it.
 */
export const PAPER = { width: 2000, height: 1300, mmPerPixel: 6, left: 270, top: 240 } as const;

const INK = '#33383f';
const TONE = '#f4efe2';

/** Plan mm to a pixel of the paper plan. */
export const px = (x: number): number => PAPER.left + x / PAPER.mmPerPixel;
export const py = (y: number): number => PAPER.top + y / PAPER.mmPerPixel;

interface Bar {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** A stretch of a square wall as a rectangle of the plan, mm. */
function bar(doc: PlanDocument, wall: Wall, along0: number, along1: number): Bar {
  const from = doc.nodes.byId[wall.from];
  const to = doc.nodes.byId[wall.to];
  const layers = doc.buildUps.byId[wall.buildUp]?.layers;
  if (!from || !to || !layers) throw new Error(`wall ${wall.id} is not whole`);
  const half = layers.reduce((sum, l) => sum + l.thickness, 0) / 2;
  const dx = Math.sign(to.x - from.x);
  const dy = Math.sign(to.y - from.y);
  const xs = [from.x + dx * along0, from.x + dx * along1];
  const ys = [from.y + dy * along0, from.y + dy * along1];
  const [wx, wy] = dx === 0 ? [half, 0] : [0, half];
  return {
    x0: Math.min(...xs) - wx,
    x1: Math.max(...xs) + wx,
    y0: Math.min(...ys) - wy,
    y1: Math.max(...ys) + wy,
  };
}

function rect(b: Bar, style: string): string {
  const w = (b.x1 - b.x0) / PAPER.mmPerPixel;
  const h = (b.y1 - b.y0) / PAPER.mmPerPixel;
  return `<rect x="${px(b.x0)}" y="${py(b.y0)}" width="${w}" height="${h}" ${style}/>`;
}

const line = (x0: number, y0: number, x1: number, y1: number, width: number, more = ''): string =>
  `<line x1="${x0}" y1="${y0}" x2="${x1}" y2="${y1}" stroke="${INK}" stroke-width="${width}" ${more}/>`;

const label = (x: number, y: number, text: string, size: number, more = ''): string =>
  `<text x="${x}" y="${y}" font-size="${size}" text-anchor="middle" fill="${INK}" ${more}>${text}</text>`;

function windowLines(b: Bar): string {
  const style = `fill="${TONE}" stroke="${INK}" stroke-width="1.5"`;
  const across = b.x1 - b.x0 > b.y1 - b.y0;
  const [cx, cy] = [px((b.x0 + b.x1) / 2), py((b.y0 + b.y1) / 2)];
  const pane = across ? line(px(b.x0), cy, px(b.x1), cy, 1.5) : line(cx, py(b.y0), cx, py(b.y1), 1.5);
  return rect(b, style) + pane;
}

/** A leaf opened square and the quarter circle it sweeps. */
function leaf(hx: number, hy: number, cx: number, cy: number, ox: number, oy: number): string {
  const r = Math.hypot(cx - hx, cy - hy);
  const sweep = (cx - hx) * (oy - hy) - (cy - hy) * (ox - hx) > 0 ? 1 : 0;
  return (
    line(hx, hy, ox, oy, 3) +
    `<path d="M ${cx} ${cy} A ${r} ${r} 0 0 ${sweep} ${ox} ${oy}" fill="none" stroke="${INK}" stroke-width="1" />`
  );
}

function doorSwing(b: Bar, inward: 1 | -1, double: boolean, hungLow: boolean): string {
  const clear = rect(b, `fill="${TONE}"`);
  const across = b.x1 - b.x0 > b.y1 - b.y0;
  if (across) {
    const y = py(inward > 0 ? b.y1 : b.y0);
    const [x0, x1] = [px(b.x0), px(b.x1)];
    const w = double ? (x1 - x0) / 2 : x1 - x0;
    const first = leaf(x0, y, x0 + w, y, x0, y + inward * w);
    return clear + first + (double ? leaf(x1, y, x1 - w, y, x1, y + inward * w) : '');
  }
  const x = px(inward > 0 ? b.x1 : b.x0);
  const [hinge, latch] = hungLow ? [py(b.y1), py(b.y0)] : [py(b.y0), py(b.y1)];
  return clear + leaf(x, hinge, x, latch, x + inward * Math.abs(latch - hinge), hinge);
}

/** Which way each door of the studio opens: towards growing x or y, or back. */
const OPENS: Readonly<Record<string, 1 | -1>> = { o1: 1, o5: 1, o8: -1, o10: 1 };

function opening(doc: PlanDocument, o: Opening): string {
  const wall = doc.walls.byId[o.wall];
  if (wall === undefined) throw new Error(`opening ${o.id} has no wall`);
  const b = bar(doc, wall, o.along, o.along + o.width);
  if (o.kind === 'window') return windowLines(b);
  if (o.kind === 'opening') return rect(b, `fill="${TONE}"`);
  // The WC door is hung on the side away from its switch.
  return doorSwing(b, OPENS[o.id] ?? 1, o.width > 1200, o.id === 'o10');
}

/** A chain of dimensions along one line, in figures of mm, with ticks where they are taken. */
function dimensionsAcross(y: number, xs: readonly number[]): string {
  return xs
    .map((x, i) => {
      const tick = line(px(x), y - 12, px(x), y + 12, 1) + line(px(x) - 6, y + 6, px(x) + 6, y - 6, 2);
      const before = xs[i - 1];
      if (before === undefined) return tick;
      const figure = label(px((x + before) / 2), y - 8, `${x - before}`, x - before < 400 ? 15 : 21);
      return tick + line(px(before), y, px(x), y, 1) + figure;
    })
    .join('');
}

function dimensionsDown(x: number, ys: readonly number[]): string {
  return ys
    .map((y, i) => {
      const tick = line(x - 12, py(y), x + 12, py(y), 1) + line(x - 6, py(y) + 6, x + 6, py(y) - 6, 2);
      const before = ys[i - 1];
      if (before === undefined) return tick;
      const cy = py((y + before) / 2);
      const turned = `transform="rotate(-90 ${x - 8} ${cy})"`;
      return tick + line(x, py(before), x, py(y), 1) + label(x - 8, cy, `${y - before}`, 21, turned);
    })
    .join('');
}

/** The paper plan as SVG text: thick walls, door swings, windows, room names, dimensions both ways, a title. */
export function paperPlan(doc: PlanDocument): string {
  const outer = new Set(['w1', 'w2', 'w3', 'w4']);
  const walls = rows(doc.walls).map((wall) => {
    const from = doc.nodes.byId[wall.from];
    const to = doc.nodes.byId[wall.to];
    const length = Math.hypot((to?.x ?? 0) - (from?.x ?? 0), (to?.y ?? 0) - (from?.y ?? 0));
    const beyond = outer.has(wall.id) ? 128.5 : 0;
    return rect(bar(doc, wall, -beyond, length + beyond), `fill="${INK}"`);
  });
  const things = rows(doc.things).flatMap(({ name, place }) => {
    if (place.on !== 'plan') return [];
    const corners = place.outline.map((p) => `${px(p.x)},${py(p.y)}`).join(' ');
    const x = place.outline.reduce((sum, p) => sum + p.x, 0) / place.outline.length;
    const y = place.outline.reduce((sum, p) => sum + p.y, 0) / place.outline.length;
    const text =
      name === 'Glazing bench'
        ? label(px(325) + 6, py(2500), name, 18, `transform="rotate(-90 ${px(325) + 6} ${py(2500)})"`)
        : label(px(x), py(y) + 6, name, 18);
    return [`<polygon points="${corners}" fill="none" stroke="${INK}" stroke-width="1.5"/>${text}`];
  });
  const names: readonly (readonly [string, number, number])[] = [
    ['WORKSHOP', 2700, 2350],
    ['KILN BAY', 7300, 4000],
    ['LOBBY', 6080, 2200],
    ['WC', 7900, 1000],
  ];
  const rooms = names.map(([name, x, y]) => label(px(x), py(y), name, 30, 'letter-spacing="3"'));
  const south = py(4700) + 245;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${PAPER.width}" height="${PAPER.height}" `,
    `font-family="DejaVu Sans, Liberation Sans, sans-serif">`,
    `<rect width="${PAPER.width}" height="${PAPER.height}" fill="${TONE}"/>`,
    label(1000, 70, 'Pottery studio, invented plan, not for building', 38),
    label(
      1000,
      108,
      'Ceiling 2400 throughout. All figures in mm, inside surfaces. Do not scale from print.',
      19,
    ),
    ...walls,
    ...rows(doc.openings).map((o) => opening(doc, o)),
    ...things,
    ...rooms,
    dimensionsAcross(py(0) - 75, [0, 5200, 5366, 6850, 6938, 8600]),
    dimensionsAcross(south - 50, [0, 2456, 2544, 3300, 4900]),
    dimensionsAcross(south, [0, 8600]),
    dimensionsDown(px(0) - 150, [0, 4700]),
    dimensionsDown(px(0) - 85, [0, 1400, 3300, 4700]),
    dimensionsDown(px(8600) + 90, [0, 2605, 4700]),
    `<g transform="translate(1880 ${south - 20})">`,
    `<polygon points="0,-34 12,10 0,2 -12,10" fill="${INK}"/>${label(0, 34, 'N', 20)}</g>`,
    '</svg>',
  ].join('');
}

import type { Point, PointKind } from '../../engine/model/document.ts';
import { gangWord, POINT_KINDS } from '../../engine/model/pointKinds.ts';
import type { Px, Radians, ScreenPoint } from '../../engine/model/units.ts';
import type { Theme } from './theme.ts';

/**
 * Location symbols for installation plans after IEC 60617-11, drawn from the description of the shapes and kept with
 * a legend on every sheet. Evidence: the half circle of the socket-outlet is sourced; the other shapes are from
 * memory, and the ones marked `own` are plain shapes of our own with letters, because no shape was to hand.
 *
 * Units: the symbol stands at (0, 0) on the wall surface or at the fitting's centre; -y points into the room. All
 * lies within its `viewBox`. Paths are SVG path data, so canvas and SVG draw the same thing.
 */
export interface SymbolDrawing {
  readonly name: string;
  readonly strokes: readonly string[];
  readonly fills: readonly string[];
  /** Letters stay upright however the symbol is turned. */
  readonly letters: readonly { readonly x: number; readonly y: number; readonly text: string }[];
  readonly basis: 'sourced' | 'from memory' | 'own';
  /** For an SVG: symbols of ceilings are centred on their place, those of walls stand on it. */
  readonly viewBox: string;
}

const ON_WALL = '-14 -23 28 28';
const CENTRED = '-14 -14 28 28';

const circle = (x: number, y: number, r: number) =>
  `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`;
const line = (...xy: number[]) => {
  const places = [];
  for (let i = 0; i + 1 < xy.length; i += 2) places.push(`${xy[i]} ${xy[i + 1]}`);
  return `M${places.join('L')}`;
};
const rect = (x: number, y: number, w: number, h: number) => `M${x} ${y}h${w}v${h}h${-w}Z`;

/** A lever at 45° from the circle of a switch, `right` and `up` = 1 or -1, with so many bars near its end. */
const lever = (cy: number, right: number, up: number, bars = 1) => {
  const start = 1.8;
  const end = 8;
  const out = [line(right * start, cy - up * start, right * end, cy - up * end)];
  for (let i = 0; i < bars; i++) {
    const at = end - i * 2.6;
    out.push(line(right * at, cy - up * at, right * (at + 2.6), cy - up * (at - 2.6)));
  }
  return out;
};
const STEM = line(0, 0, 0, -6.5);
const CIRCLE_AT = -9;
const cross = (cy: number, r: number) => {
  const d = r * Math.SQRT1_2;
  return [line(-d, cy - d, d, cy + d), line(-d, cy + d, d, cy - d)].map((path) =>
    path.replaceAll(/(\.\d\d)\d+/g, '$1'),
  );
};

const drawing = (
  name: string,
  strokes: readonly string[],
  basis: SymbolDrawing['basis'] = 'from memory',
  more: Partial<SymbolDrawing> = {},
): SymbolDrawing => ({
  name,
  strokes,
  fills: [],
  letters: [],
  basis,
  viewBox: ON_WALL,
  ...more,
});

const letter = (text: string, y: number, x = 0) => [{ x, y, text }];
const SOCKET = [line(0, 0, 0, -5), 'M-7 -12A7 7 0 0 0 7 -12', line(-7, -5, 7, -5)];

export const SYMBOLS: Readonly<Record<PointKind, SymbolDrawing>> = {
  socket: drawing('Socket-outlet', SOCKET, 'sourced'),
  'switch-1way': drawing('One-way switch', [STEM, circle(0, CIRCLE_AT, 2.5), ...lever(CIRCLE_AT, 1, 1)]),
  'switch-2way': drawing('Two-way switch', [
    STEM,
    circle(0, CIRCLE_AT, 2.5),
    ...lever(CIRCLE_AT, 1, 1),
    ...lever(CIRCLE_AT, -1, -1),
  ]),
  'switch-intermediate': drawing('Intermediate switch', [
    STEM,
    circle(0, CIRCLE_AT, 2.5),
    ...lever(CIRCLE_AT, 1, 1),
    ...lever(CIRCLE_AT, -1, -1),
    ...lever(CIRCLE_AT, -1, 1),
    ...lever(CIRCLE_AT, 1, -1),
  ]),
  'switch-pull': drawing(
    'Pull switch',
    [circle(0, 0, 2.5), ...lever(0, 1, 1), line(-1.8, 1.8, -8, 8), line(-8, 4.2, -8, 8, -4.2, 8)],
    'from memory',
    { viewBox: CENTRED },
  ),
  'fused-spur': drawing(
    'Fused connection unit',
    [line(0, 0, 0, -14), rect(-7, -11, 14, 8), rect(-2, -10, 4, 6)],
    'own',
  ),
  isolator: drawing('Isolator (two-pole switch)', [
    STEM,
    circle(0, CIRCLE_AT, 2.5),
    ...lever(CIRCLE_AT, 1, 1, 2),
  ]),
  'heavy-outlet': drawing('Cooker or heavy-load outlet', [line(0, 0, 0, -3), rect(-8, -15, 16, 12)], 'own', {
    letters: letter('C', -9),
  }),
  'ceiling-light': drawing('Ceiling light', [circle(0, 0, 7), ...cross(0, 7)], 'from memory', {
    viewBox: CENTRED,
  }),
  'wall-light': drawing('Wall light', [line(0, 0, 0, -4), circle(0, -10, 6), ...cross(-10, 6)]),
  extractor: drawing('Extractor fan', [
    line(0, 0, 0, -3),
    circle(0, -10, 7),
    'M0 -10C-2 -14 -6 -13 -6 -10C-6 -7 -2 -6 0 -10C2 -14 6 -13 6 -10C6 -7 2 -6 0 -10Z',
  ]),
  'smoke-alarm': drawing('Smoke alarm', [circle(0, 0, 7)], 'own', {
    letters: letter('S', 0),
    viewBox: CENTRED,
  }),
  'heat-alarm': drawing('Heat alarm', [circle(0, 0, 7)], 'own', {
    letters: letter('H', 0),
    viewBox: CENTRED,
  }),
  data: drawing('Data outlet', [line(0, 0, 0, -5), line(-6, -12, -6, -5, 6, -5, 6, -12)], 'from memory', {
    letters: letter('D', -10),
  }),
  'consumer-unit': drawing('Consumer unit', [rect(-12, -10, 24, 10)], 'from memory', {
    fills: ['M-12 0L12 0L12 -10Z'],
  }),
  joint: drawing('Concealed joint', [circle(0, 0, 4)], 'from memory', {
    fills: [circle(0, 0, 1.5)],
    viewBox: CENTRED,
  }),
  'blank-plate': drawing('Blank plate', [rect(-6, -5, 12, 5)], 'own'),
};

/** The symbol of a point: accessories of several gangs carry their number. */
export function symbolFor(point: Pick<Point, 'kind' | 'gangs'>): SymbolDrawing {
  const base = SYMBOLS[point.kind];
  if (point.gangs === 1) return base;
  return {
    ...base,
    name: `${base.name}, ${gangWord(point.gangs)}`,
    // On the side where a switch has no lever.
    letters: [
      ...base.letters,
      { x: POINT_KINDS[point.kind].isSwitch ? -7 : 9.5, y: -15.5, text: String(point.gangs) },
    ],
  };
}

interface Drawn {
  readonly stroke: Path2D;
  readonly fill: Path2D | null;
}
const drawn = new Map<string, Drawn>();

/** All strokes of a symbol as one path and all fills as another: a canvas is slow per call, not per line. */
function pathsOf(symbol: SymbolDrawing): Drawn {
  const key = symbol.strokes.join('') + symbol.fills.join('');
  let paths = drawn.get(key);
  if (!paths) {
    paths = {
      stroke: new Path2D(symbol.strokes.join('')),
      fill: symbol.fills.length > 0 ? new Path2D(symbol.fills.join('')) : null,
    };
    drawn.set(key, paths);
  }
  return paths;
}

/** How a symbol is turned so that -y points along `into` (a direction on the plan, y down): 0 is up the screen. */
export function symbolTurn(into: { readonly x: number; readonly y: number }): Radians {
  return Math.atan2(into.x, -into.y);
}

/** Draws a symbol with its origin at a place of the canvas. `unit`: pixels per symbol unit. */
export function drawSymbol(
  ctx: CanvasRenderingContext2D,
  symbol: SymbolDrawing,
  at: ScreenPoint,
  turn: Radians,
  unit: Px,
  colour: string,
  theme: Theme,
  width: Px = 1.4,
): void {
  ctx.save();
  ctx.translate(at.px, at.py);
  ctx.rotate(turn);
  ctx.scale(unit, unit);
  ctx.lineWidth = width / unit;
  ctx.lineCap = 'round';
  ctx.lineJoin = 'round';
  ctx.setLineDash([]);
  ctx.strokeStyle = colour;
  ctx.fillStyle = colour;
  const { stroke, fill } = pathsOf(symbol);
  ctx.stroke(stroke);
  if (fill) ctx.fill(fill);
  // Letters are unreadable, and slow, when the symbol is small.
  if (unit < 0.6 || symbol.letters.length === 0) {
    ctx.restore();
    return;
  }
  ctx.font = `600 8px ${theme.font}`;
  ctx.textAlign = 'center';
  ctx.textBaseline = 'middle';
  for (const { x, y, text } of symbol.letters) {
    ctx.save();
    ctx.translate(x, y);
    ctx.rotate(-turn);
    ctx.fillText(text, 0, 0.5);
    ctx.restore();
  }
  ctx.restore();
}

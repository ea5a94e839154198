import type { Curve } from './curves.ts';
import type { DxfRecord, Group } from './groups.ts';
import { numberOf, valueOf } from './groups.ts';
import type { Item } from './model.ts';
import { DXF_LIMITS } from './types.ts';

/** What an entity comes to: an item, a curve that is still to be drawn, or why it is left out. */
export type Entity =
  | { readonly kind: 'item'; readonly item: Item }
  | {
      readonly kind: 'curve';
      readonly layer: string;
      readonly closed: boolean;
      readonly curve: Curve;
      readonly mirrored: boolean;
    }
  | { readonly kind: 'left'; readonly what: string };

const left = (what: string): Entity => ({ kind: 'left', what });
const BROKEN = 'things with a number that is none or too large';

/** Coordinates and sizes of an entity: codes 10 to 59 and 210 to 239 of the DXF reference. */
const isCoordinate = (code: number): boolean => (code >= 10 && code < 60) || (code >= 210 && code < 240);

function broken(record: DxfRecord): boolean {
  return record.groups.some((g) => {
    if (!isCoordinate(g.code)) return false;
    const n = numberOf(g.value);
    return n === null || Math.abs(n) > DXF_LIMITS.coordinate;
  });
}

const number = (record: DxfRecord, code: number, otherwise: number): number =>
  numberOf(valueOf(record, code)) ?? otherwise;

/** Whole numbers stand in codes 60 to 79 as plain text. */
const whole = (record: DxfRecord, code: number, otherwise: number): number =>
  Math.trunc(number(record, code, otherwise));

const layerOf = (record: DxfRecord): string => valueOf(record, 8) ?? '0';
const isMirrored = (record: DxfRecord): boolean => number(record, 230, 1) < -0.5;

interface Vertex {
  readonly x: number;
  readonly y: number;
  readonly bulge: number;
}

/** A bulge beyond this (an arc within 0.02° of a full turn) is taken as a straight line. */
const LARGEST_BULGE = 1e4;

/** Vertices by the data that is there, never by the count that code 90 claims. */
function polyVertices(groups: readonly Group[]): Vertex[] {
  const out: { x: number; y: number; bulge: number }[] = [];
  for (const g of groups) {
    const n = numberOf(g.value) ?? 0;
    const last = out.at(-1);
    if (g.code === 10) out.push({ x: n, y: 0, bulge: 0 });
    else if (last && g.code === 20) last.y = n;
    else if (last && g.code === 42) last.bulge = Math.abs(n) > LARGEST_BULGE ? 0 : n;
  }
  return out;
}

/** A polyline as an item, or as a curve where any of it bulges. */
export function polyline(
  layer: string,
  vertices: readonly Vertex[],
  closed: boolean,
  mirrored: boolean,
): Entity {
  if (vertices.length < 2) return left('lines of a single point');
  if (vertices.every((v) => v.bulge === 0)) {
    const side = mirrored ? -1 : 1;
    return {
      kind: 'item',
      item: {
        kind: 'path',
        layer,
        closed,
        vertices: Float64Array.from(vertices.flatMap((v) => [side * v.x, v.y])),
      },
    };
  }
  const groups: Group[] = [{ code: 70, value: closed ? '1' : '0' }];
  for (const v of vertices)
    groups.push(
      { code: 10, value: String(v.x) },
      { code: 20, value: String(v.y) },
      { code: 42, value: String(v.bulge) },
    );
  return { kind: 'curve', layer, closed: false, mirrored, curve: { type: 'LWPOLYLINE', groups } };
}

/** The vertices that follow a POLYLINE record up to its SEQEND. */
export function oldPolyline(head: DxfRecord, vertices: readonly DxfRecord[]): Entity {
  const flags = whole(head, 70, 0);
  if ((flags & (16 | 64)) !== 0) return left('meshes');
  if (vertices.some(broken)) return left(BROKEN);
  return polyline(
    layerOf(head),
    vertices
      // 16: a control point of the frame the curve was made from, not of the curve.
      .filter((v) => (whole(v, 70, 0) & 16) === 0)
      .flatMap((v) => polyVertices(v.groups)),
    (flags & 1) === 1,
    (flags & 8) === 0 && isMirrored(head),
  );
}

const kept = (record: DxfRecord, codes: readonly number[]): Group[] =>
  record.groups.filter((g) => codes.includes(g.code));

function curve(record: DxfRecord, type: Curve['type'], codes: readonly number[]): Entity {
  return {
    kind: 'curve',
    layer: layerOf(record),
    closed: type === 'CIRCLE',
    mirrored: type !== 'ELLIPSE' && type !== 'SPLINE' && isMirrored(record),
    curve: { type, groups: kept(record, codes) },
  };
}

/** An ellipse is given in the drawing's own axes even when it is seen from behind: only its sense is reversed. */
function ellipse(record: DxfRecord): Entity {
  if (number(record, 40, 0) <= 0 || Math.hypot(number(record, 11, 0), number(record, 21, 0)) === 0)
    return left('curves of no size');
  const drawn = curve(record, 'ELLIPSE', [10, 20, 11, 21, 40, 41, 42]);
  if (!isMirrored(record) || drawn.kind !== 'curve') return drawn;
  const groups = drawn.curve.groups.map((g) => {
    if (g.code === 41) return { code: 41, value: String(-number(record, 42, 2 * Math.PI)) };
    return g.code === 42 ? { code: 42, value: String(-number(record, 41, 0)) } : g;
  });
  return { ...drawn, curve: { type: 'ELLIPSE', groups } };
}

/** A spline by its control points; one that gives only points it runs through is drawn straight between them. */
function spline(record: DxfRecord): Entity {
  const has = (code: number): boolean => record.groups.some((g) => g.code === code);
  if (!has(10) && has(11)) {
    const through = record.groups
      .filter((g) => g.code === 11 || g.code === 21)
      .map((g) => ({ code: g.code - 1, value: g.value }));
    return polyline(layerOf(record), polyVertices(through), (whole(record, 70, 0) & 1) === 1, false);
  }
  return curve(record, 'SPLINE', [10, 20, 40, 41, 70, 71]);
}

function text(record: DxfRecord): Entity {
  const words = record.groups
    .filter((g) => g.code === 1 || g.code === 3)
    .map((g) => g.value)
    .join('');
  const plain = words
    .replace(/\\[Pp]|\^J/g, ' ')
    .replace(/%%[uokcdp]/gi, '')
    .replace(/\\[A-Za-z][^;\\]*;|[{}]/g, '')
    .trim()
    .slice(0, 200);
  if (plain === '') return left('empty texts');
  return {
    kind: 'item',
    item: {
      kind: 'text',
      layer: layerOf(record),
      text: plain,
      x: number(record, 10, 0),
      y: number(record, 20, 0),
      height: Math.max(0, number(record, 40, 0)),
    },
  };
}

function insert(record: DxfRecord): Entity {
  const block = valueOf(record, 2);
  if (block === undefined) return left('blocks without a name');
  return {
    kind: 'item',
    item: {
      kind: 'insert',
      layer: layerOf(record),
      block,
      x: number(record, 10, 0),
      y: number(record, 20, 0),
      scaleX: number(record, 41, 1),
      scaleY: number(record, 42, 1),
      rotation: number(record, 50, 0),
      columns: Math.max(1, whole(record, 70, 1)),
      rows: Math.max(1, whole(record, 71, 1)),
      columnSpacing: number(record, 44, 0),
      rowSpacing: number(record, 45, 0),
      mirrored: isMirrored(record),
    },
  };
}

/** A dimension is drawn by a block of its own, in the drawing's coordinates. */
function dimension(record: DxfRecord): Entity {
  const block = valueOf(record, 2);
  if (block === undefined) return left('dimensions without their drawing');
  const item: Item = {
    kind: 'insert',
    layer: layerOf(record),
    block,
    x: 0,
    y: 0,
    scaleX: 1,
    scaleY: 1,
    rotation: 0,
    rows: 1,
    columns: 1,
    rowSpacing: 0,
    columnSpacing: 0,
    mirrored: false,
  };
  return { kind: 'item', item };
}

/** Outlines of a filled triangle or four-sided piece; corners 3 and 4 stand crosswise in a SOLID. */
function corners(record: DxfRecord, order: readonly number[]): Entity {
  const vertices = order.map((i) => ({
    x: number(record, 10 + i, NaN),
    y: number(record, 20 + i, NaN),
    bulge: 0,
  }));
  const there = vertices.filter((v) => Number.isFinite(v.x) && Number.isFinite(v.y));
  return polyline(layerOf(record), there, true, record.type === 'SOLID' && isMirrored(record));
}

/** Names of what is not read, in words; anything else is told by the file's own word for it. */
const UNREAD: Readonly<Record<string, string>> = {
  HATCH: 'filled areas',
  IMAGE: 'pictures',
  VIEWPORT: 'views of a paper sheet',
  POINT: 'single points',
  LEADER: 'leaders',
  MULTILEADER: 'leaders',
  MLINE: 'multiple lines',
  REGION: 'solids',
  '3DSOLID': 'solids',
  WIPEOUT: 'masks',
  ATTDEF: 'blank labels of blocks',
  XLINE: 'lines without end',
  RAY: 'lines without end',
};

/** Reads one entity, POLYLINE with its vertices apart (`oldPolyline`). Never throws. */
export function readEntity(record: DxfRecord): Entity {
  if (whole(record, 67, 0) === 1) return left('things on a paper sheet');
  if (whole(record, 60, 0) === 1) return left('hidden things');
  if (Object.hasOwn(UNREAD, record.type)) return left(UNREAD[record.type] as string);
  if (broken(record)) return left(BROKEN);
  switch (record.type) {
    case 'LINE':
      return polyline(
        layerOf(record),
        [
          { x: number(record, 10, 0), y: number(record, 20, 0), bulge: 0 },
          { x: number(record, 11, 0), y: number(record, 21, 0), bulge: 0 },
        ],
        false,
        false,
      );
    case 'LWPOLYLINE':
      return polyline(
        layerOf(record),
        polyVertices(record.groups),
        (whole(record, 70, 0) & 1) === 1,
        isMirrored(record),
      );
    case 'CIRCLE':
    case 'ARC':
      if (number(record, 40, 0) <= 0) return left('curves of no size');
      return curve(record, record.type, [10, 20, 40, 50, 51]);
    case 'ELLIPSE':
      return ellipse(record);
    case 'SPLINE':
      return spline(record);
    case 'TEXT':
    case 'MTEXT':
    case 'ATTRIB':
      return text(record);
    case 'INSERT':
      return insert(record);
    case 'DIMENSION':
      return dimension(record);
    case 'SOLID':
    case 'TRACE':
      return corners(record, [0, 1, 3, 2]);
    case '3DFACE':
      return corners(record, [0, 1, 2, 3]);
    default:
      return left(`things called ${record.type.slice(0, 40)}`);
  }
}

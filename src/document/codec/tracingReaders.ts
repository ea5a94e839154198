import { fitStraighten } from '../../engine/geometry/straightened.ts';
import type * as Plan from '../../engine/model/tracing.ts';
import { angle, coordinate, date, side, someLength } from './measures.ts';
import type { Reader } from './readers.ts';
import {
  above0,
  flag,
  id,
  listOf,
  Misread,
  name,
  numberIn,
  oneOf,
  orNull,
  record,
  textLike,
  under,
  variants,
  wholeIn,
} from './readers.ts';

export const SHA256 = /^[0-9a-f]{64}$/;
export const pictureType = oneOf('image/png', 'image/jpeg', 'image/webp');

const asset = textLike(SHA256, 'the SHA-256 of the file in 64 hexadecimal digits');
const extent = above0(1e7, 'pixels, points or units of the drawing');
const inSource = numberIn(-1e7, 1e7, 'pixels, points or units of the drawing');
const finite = numberIn(-1e12, 1e12);
const layers = orNull(listOf(name, 0, 10_000));

const spot = record<Plan.WallSpot>({ along: coordinate, z: coordinate });
const corners = listOf(spot, 4, 4) as unknown as Reader<Extract<Plan.TracingLies, { on: 'face' }>['corners']>;

const lies = variants<Plan.TracingLies>('on', {
  storey: record({ on: oneOf('storey'), storey: id, x: coordinate, y: coordinate, rotation: angle }),
  face: record({ on: oneOf('face'), wall: id, side, corners }),
} as Record<Plan.TracingLies['on'], Reader<Plan.TracingLies>>);

const pixels = above0(1e6, 'pixels');
const straightenFields = record<Plan.Straighten>({
  by: oneOf('sheet', 'lengths'),
  marks: listOf(
    record<Plan.StraightenMark>({
      col: numberIn(-1e6, 1e6, 'pixels'),
      row: numberIn(-1e6, 1e6, 'pixels'),
      x: coordinate,
      y: coordinate,
    }),
    4,
    100,
  ),
  markSd: above0(1e4, 'pixels'),
  pictureWidth: pixels,
  pictureHeight: pixels,
  left: coordinate,
  top: coordinate,
  width: someLength,
  height: someLength,
});
const straighten: Reader<Plan.Straighten> = {
  schema: straightenFields.schema,
  read: (value, at) => {
    const read = straightenFields.read(value, at);
    const fit = fitStraighten(read);
    if (!fit.ok) throw new Misread(under(at, 'marks'), `cannot be seen so: ${fit.reason}`);
    return read;
  },
};

const boxFields = record<Plan.SourceBox>({ x0: inSource, y0: inSource, x1: inSource, y1: inSource });
const box: Reader<Plan.SourceBox> = {
  schema: boxFields.schema,
  read: (value, at) => {
    const read = boxFields.read(value, at);
    if (read.x1 <= read.x0) throw new Misread(under(at, 'x1'), 'must be more than x0');
    if (read.y1 <= read.y0) throw new Misread(under(at, 'y1'), 'must be more than y0');
    return read;
  },
};

const source = variants<Plan.TracingSource>('kind', {
  picture: record({
    kind: oneOf('picture'),
    asset,
    mediaType: pictureType,
    width: extent,
    height: extent,
    straighten: orNull(straighten),
  }),
  page: record({
    kind: oneOf('page'),
    asset,
    page: wholeIn(1, 100_000),
    quarterTurns: oneOf(0, 1, 2, 3),
    crop: orNull(box),
    layers,
    width: extent,
    height: extent,
  }),
  lines: record({
    kind: oneOf('lines'),
    asset,
    unit: orNull(above0(1e7, 'mm in each unit')),
    offset: record<{ readonly x: number; readonly y: number }>({ x: finite, y: finite }),
    layers,
    width: extent,
    height: extent,
  }),
} as Record<Plan.TracingSource['kind'], Reader<Plan.TracingSource>>);

const known = record<Plan.KnownLength>({
  ax: inSource,
  ay: inSource,
  bx: inSource,
  by: inSource,
  length: someLength,
});

export const tracing: Reader<Plan.Tracing> = record<Plan.Tracing>({
  id,
  name,
  lies,
  source,
  scale: record<Plan.TracingScale>({
    mmPerUnit: above0(1e6, 'mm in each pixel, point or unit'),
    known: listOf(known),
    stated: orNull(name),
  }),
  date: orNull(date),
  revision: name,
  opacity: numberIn(0, 1),
  locked: flag,
  visible: flag,
});

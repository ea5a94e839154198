import { useEffect, useState } from 'react';
import { MARK_SD } from '../../engine/geometry/flattening.ts';
import type { PictureSource } from '../../engine/geometry/straightened.ts';
import type { SourcePoint } from '../../engine/geometry/tracing.ts';
import type { Px } from '../../engine/model/units.ts';
import type { Picture } from '../../workers/pictureClient.ts';
import { useProgram } from '../ui/hooks.ts';

interface Size {
  readonly width: Px;
  readonly height: Px;
}

interface Corners {
  /** From the top left one, clockwise, px of the photograph. */
  readonly spots: readonly SourcePoint[];
  /** How far off they may be, px. */
  readonly markSd: Px;
  readonly said: string;
  /** `grain`: pixels of the photograph that one step of the hand was worth. */
  readonly move: (corner: number, to: SourcePoint, grain: Px) => void;
}

/** A step of the hand of `grain` pixels is off by an even spread of them: its standard deviation. */
const EVEN_SPREAD = 1 / Math.sqrt(12);

const inset = ({ width, height }: Size): SourcePoint[] =>
  [
    [0.1, 0.1],
    [0.9, 0.1],
    [0.9, 0.9],
    [0.1, 0.9],
  ].map(([x, y]) => ({ x: width * (x as number), y: height * (y as number) }));

/** The corners as they were marked before, as they are found on the picture, or somewhere to start from. */
export function useCorners(source: PictureSource, picture: Size, photo: Picture | null): Corners {
  const program = useProgram();
  const before = source.straighten;
  const [spots, setSpots] = useState<readonly SourcePoint[]>(
    () => before?.marks.slice(0, 4).map((m) => ({ x: m.col, y: m.row })) ?? inset(picture),
  );
  const [grains, setGrains] = useState<readonly Px[]>(() =>
    new Array<Px>(4).fill((before?.markSd ?? MARK_SD) / EVEN_SPREAD),
  );
  const [found, setFound] = useState<'looking' | 'found' | 'not-found' | 'marked'>(
    before ? 'marked' : 'looking',
  );
  useEffect(() => {
    if (found !== 'looking' || !photo) return;
    let gone = false;
    const by = picture.width / photo.width;
    program.pictures
      .corners(photo)
      .catch(() => null)
      .then((corners) => {
        if (gone) return;
        setFound((now) => (now === 'looking' ? (corners ? 'found' : 'not-found') : now));
        if (corners) setSpots(corners.map((c) => ({ x: c.col * by, y: c.row * by })));
      });
    return () => void (gone = true);
  }, [found, photo, picture.width, program]);
  const said = {
    looking: 'Looking for the edge of the sheet…',
    found: 'The corners of the sheet were found. Look at each, and drag it where it is off.',
    'not-found': 'The edge of the sheet is not clear. Drag each corner to where it is.',
    marked: 'Drag each corner to where it is; arrow keys move it by one pixel, with Shift by ten.',
  }[found];
  return {
    spots,
    markSd: Math.max(MARK_SD, EVEN_SPREAD * Math.max(...grains)),
    said,
    move(corner, to, grain) {
      setFound('marked');
      setSpots(spots.with(corner, to));
      setGrains(grains.with(corner, grain));
    },
  };
}

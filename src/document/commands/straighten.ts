import { carriedLength, fitStraighten } from '../../engine/geometry/straightened.ts';
import type { Id } from '../../engine/model/document.ts';
import type { KnownLength, Straighten } from '../../engine/model/tracing.ts';
import { fitScale, grainOfSource } from '../../engine/takeoff/calibration.ts';
import { command, patch, refuse } from '../transact.ts';
import type { Command } from '../types.ts';
import { GUESSED_WIDTH } from './tracings.ts';

/**
 * Shows a photograph as from straight above, by four corners marked on it; null shows it as it was taken. Known lengths go
 * with it. The bytes stay what they are. A rectangle of the drawing brings its own two known lengths, and with them the scale.
 */
export function straightenPhotograph(id: Id, straighten: Straighten | null): Command {
  return command(straighten ? 'Straighten photograph' : 'Show photograph as taken', (draft, step) => {
    const now = step.doc.tracings.byId[id];
    if (!now) return refuse('That tracing is no longer in the plan.');
    if (now.locked) return refuse('The tracing is locked: unlock it first.');
    const { source, scale } = now;
    if (source.kind !== 'picture') return refuse('Only a picture can be straightened by its corners.');
    const before = source.straighten;
    const fit = straighten && fitStraighten(straighten);
    if (fit && !fit.ok) return refuse(fit.reason);
    const carried = scale.known.flatMap((k) => {
      if (before && isSide(before, k)) return [];
      return carriedLength(k, before, straighten) ?? [];
    });
    const known = [...(straighten ? sidesOf(straighten) : []), ...carried];
    const picture = straighten ?? {
      width: before?.pictureWidth ?? source.width,
      height: before?.pictureHeight ?? source.height,
    };
    const shown = { ...source, straighten, width: picture.width, height: picture.height };
    const scaled = fitScale(known, grainOfSource(shown));
    patch(draft, 'tracings', id, {
      source: shown,
      scale: { ...scale, known, mmPerUnit: scaled?.mmPerPixel ?? GUESSED_WIDTH / picture.width },
    });
    const lost = scale.known.filter((k) => !before || !isSide(before, k)).length - carried.length;
    if (lost > 0) step.note(`${lost} known length${lost === 1 ? '' : 's'} cannot be seen any more and went.`);
    if (!scaled) step.note('Now mark a known length on it: the corners show its shape, not its scale.');
  });
}

/** The first two sides of a rectangle of the drawing, whose lengths were typed; a sheet of paper has none. */
function sidesOf(s: Straighten): KnownLength[] {
  if (s.by === 'sheet') return [];
  return [0, 1].flatMap((i) => {
    const [a, b] = [s.marks[i], s.marks[i + 1]];
    if (!a || !b) return [];
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    return [{ ax: a.x - s.left, ay: a.y - s.top, bx: b.x - s.left, by: b.y - s.top, length }];
  });
}

const isSide = (s: Straighten, known: KnownLength): boolean =>
  sidesOf(s).some((side) =>
    (Object.keys(side) as (keyof KnownLength)[]).every((key) => side[key] === known[key]),
  );

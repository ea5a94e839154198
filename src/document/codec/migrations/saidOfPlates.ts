import type { Plain } from './plain.ts';
import { asPlain, eachRecord } from './plain.ts';

/**
 * What version 1 never asked: whether points can be told from behind a wall, the size of a plate, the use of other circuits' strips. Nobody has said, so nothing is granted. The lights of a switch were
 * one list for all its gangs: they become those of its first gang, which keeps every wire as it was.
 */
export function saidOfPlates(file: Plain): Plain {
  const walls = eachRecord(file, 'walls', (wall) => ({
    ...wall,
    toldFromBehind: { left: null, right: null },
  }));
  const points = eachRecord(walls, 'points', (point) => {
    const { controls } = point;
    const none = Array.isArray(controls) && controls.length === 0;
    return { ...point, plate: null, controls: none ? [] : [controls] };
  });
  const job = asPlain(points['job']);
  return job === null ? points : { ...points, job: { ...job, otherCircuitsInStrip: false } };
}

import type { ResolvedRun } from '../fabric/types.ts';
import type { PlanDocument, Run } from '../model/document.ts';
import { find } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { straightsOf } from './straights.ts';
import { tailsOf } from './tails.ts';
import type { RunLength, Straight } from './types.ts';

const total = (straights: readonly Straight[], which: (s: Straight) => boolean): Mm =>
  straights.reduce((sum, s) => (which(s) ? sum + s.length : sum), 0);

/**
 * The length of one run, mm, with its working. Plumb stretches of walls and risers are rise and drop; a wall crossed is
 * through; all else, loose stretches among it, is run. Parked ends and runs that could not be resolved are not `whole`:
 * their metres are those of the legs there are.
 */
export function runLength(doc: PlanDocument, resolved: ResolvedRun, run: Run): RunLength {
  const straights = straightsOf(doc, run, resolved.legs);
  const tails = tailsOf(doc, run);
  const throughMm = total(straights, (s) => s.where === 'through');
  const risesOrDrops = (s: Straight) => s.lie === 'plumb' && s.where !== 'loose';
  const riseDropMm = total(straights, (s) => s.where !== 'through' && risesOrDrops(s));
  const runMm = total(straights, (s) => s.where !== 'through' && !risesOrDrops(s));
  const ended = find(doc, 'points', run.from) !== undefined && find(doc, 'points', run.to) !== undefined;
  return {
    run: run.id,
    cable: run.cable,
    circuit: run.circuit,
    runMm,
    riseDropMm,
    throughMm,
    tailFromMm: tails.from.length,
    tailToMm: tails.to.length,
    cutMm: runMm + riseDropMm + throughMm + tails.from.length + tails.to.length,
    tailFromWhy: tails.from.why,
    tailToWhy: tails.to.why,
    levelWallMm: total(straights, (s) => s.where === 'wall' && s.lie !== 'plumb'),
    plumbWallMm: total(straights, (s) => s.where === 'wall' && s.lie === 'plumb'),
    voidMm: total(straights, (s) => s.where === 'void' || s.where === 'riser'),
    throughTimber: straights.reduce((sum, s) => sum + s.timberHoles, 0),
    throughMetal: straights.reduce((sum, s) => sum + s.metalHoles, 0),
    straights,
    whole: ended && resolved.missing === null,
  };
}

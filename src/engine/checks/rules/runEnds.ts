import type { Point, Run } from '../../model/document.ts';
import { find } from '../../model/tables.ts';
import { COMMON_PRACTICE, type CheckContext, type Rule } from '../rule.ts';
import { list, placeOfPoint, placeOnLeg, pointName } from '../words.ts';

const endsOf = (ctx: CheckContext, run: Run): (Point | undefined)[] => [
  find(ctx.doc, 'points', run.from),
  find(ctx.doc, 'points', run.to),
];

/** A run whose end is on no point. */
export const parkedEnd: Rule<'run'> = {
  id: 'parked-end',
  title: 'End on no point',
  looksAt: 'run',
  severity: 'warning',
  stage: 'runs',
  source: COMMON_PRACTICE,
  find: (ctx, run) => {
    const ends = endsOf(ctx, run);
    const parked = ends.filter((p) => p === undefined).length;
    if (parked === 0) return [];
    const other = ends.find((p) => p !== undefined);
    const leg = ctx.checks.get(run.id)?.legs.at(run.from === null ? 0 : -1);
    return [
      {
        about: run.id,
        run: run.id,
        at: leg ? placeOnLeg(ctx, leg, run.from === null ? 0 : 1) : other ? placeOfPoint(ctx, other) : null,
        message:
          parked === 2
            ? `${run.label} ends on no point at either end.`
            : `${run.label} has one end at ${other ? pointName(other) : 'a point'} and the other on no point.`,
        fix: 'Drag each loose end to its point, or take the run out: a cable left in a wall must end somewhere known.',
      },
    ];
  },
};

/** A mains run that belongs to no circuit. */
export const runNoCircuit: Rule<'run'> = {
  id: 'run-no-circuit',
  title: 'Run on no circuit',
  looksAt: 'run',
  severity: 'warning',
  stage: 'circuits',
  source: COMMON_PRACTICE,
  find: (ctx, run) => {
    const known = find(ctx.doc, 'circuits', run.circuit) !== undefined;
    if (known || find(ctx.doc, 'cables', run.cable)?.use === 'data') return [];
    const end = endsOf(ctx, run).find((p) => p !== undefined);
    return [
      {
        about: run.id,
        run: run.id,
        at: end ? placeOfPoint(ctx, end) : null,
        message: `${run.label} belongs to no circuit, so nothing is known of what protects it.`,
        fix: 'Put it on a circuit: pick the circuit and click the run.',
      },
    ];
  },
};

/** A run on one circuit that ends at a point of another. The board takes them all. */
export const endMismatch: Rule<'run'> = {
  id: 'end-mismatch',
  title: 'Ends at a point of another circuit',
  looksAt: 'run',
  severity: 'error',
  stage: 'circuits',
  source: COMMON_PRACTICE,
  find: (ctx, run) => {
    const own = find(ctx.doc, 'circuits', run.circuit);
    if (own === undefined) return [];
    const wrong = endsOf(ctx, run).filter(
      (p): p is Point =>
        p !== undefined && p.kind !== 'consumer-unit' && p.circuit !== null && p.circuit !== own.id,
    );
    const [first] = wrong;
    if (first === undefined) return [];
    const said = wrong.map(
      (p) => `${pointName(p)} of ${find(ctx.doc, 'circuits', p.circuit)?.label ?? 'another circuit'}`,
    );
    return [
      {
        about: run.id,
        run: run.id,
        point: first.id,
        circuit: own.id,
        at: placeOfPoint(ctx, first),
        message: `${run.label} is on circuit ${own.label} but ends at ${list(said)}.`,
        fix: `Put the run and its points on one circuit, or end it elsewhere.`,
      },
    ];
  },
};

/** Stretches that follow no wall, ceiling or floor, and places that lie on no wall. */
export const runUnresolved: Rule<'run'> = {
  id: 'run-unresolved',
  title: 'Way through the building not clear',
  looksAt: 'run',
  severity: 'error',
  stage: 'runs',
  source: COMMON_PRACTICE,
  find: (ctx, run) => {
    const check = ctx.checks.get(run.id);
    if (check === undefined) return [];
    const parked = endsOf(ctx, run).filter((p) => p === undefined).length;
    const missing = check.missing === null ? [] : check.missing.split('; ');
    const index = check.legs.findIndex((l) => l.leg.kind === 'loose');
    if (index < 0 && missing.length <= parked) return [];
    const leg = check.legs[index] ?? check.legs[0];
    const end = endsOf(ctx, run).find((p) => p !== undefined);
    const why =
      index < 0
        ? `cannot be placed whole: ${missing.join('; ')}`
        : `leaves the walls and voids at leg ${index + 1}: it jumps from one place to the next with nothing to lie in${missing.length > parked ? ` (${missing.join('; ')})` : ''}`;
    return [
      {
        about: run.id,
        run: run.id,
        leg: index < 0 ? null : index,
        at: leg ? placeOnLeg(ctx, leg, 0) : end ? placeOfPoint(ctx, end) : null,
        message: `${run.label} ${why}. Nothing is known about that stretch.`,
        fix: 'Add the corners it needs: along the wall to an angle, up into the ceiling, or square through a wall.',
      },
    ];
  },
};

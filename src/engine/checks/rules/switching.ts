import type { Point } from '../../model/document.ts';
import { POINT_KINDS } from '../../model/pointKinds.ts';
import { COMMON_PRACTICE, type Rule } from '../rule.ts';
import { list, placeOfPoint, pointName } from '../words.ts';

/** A switch that nothing is put on: its strappers and switched lines cannot be known, so no way is found for it. */
export const switchWorksNothing: Rule<'point'> = {
  id: 'switch-works-nothing',
  title: 'Switch without a light',
  looksAt: 'point',
  severity: 'note',
  stage: 'circuits',
  source: COMMON_PRACTICE,
  find: (ctx, point) => {
    if (!POINT_KINDS[point.kind].isSwitch) return [];
    const idle = Array.from({ length: point.gangs }, (_, i) => i).filter((i) => !point.controls[i]?.length);
    if (idle.length === 0) return [];
    const who =
      idle.length === point.gangs
        ? `The ${pointName(point)} switches`
        : `Gang ${list(idle.map((i) => String(i + 1)))} of the ${pointName(point)} ${idle.length > 1 ? 'switch' : 'switches'}`;
    return [
      {
        about: point.id,
        point: point.id,
        at: placeOfPoint(ctx, point),
        message: `${who} nothing yet, so what its cables must carry is not known.`,
        fix: 'Pick the switch and tick the lights each gang switches. For a gang that works something not on the plan, accept this with a reason.',
      },
    ];
  },
};

/** Lights of a circuit that no switch of it works: told together, as a circuit is usually drawn lights first. */
export const lightWithoutSwitch: Rule<'circuit'> = {
  id: 'light-without-switch',
  title: 'Light that no switch works',
  looksAt: 'circuit',
  severity: 'note',
  stage: 'circuits',
  source: COMMON_PRACTICE,
  find: (ctx, circuit) => {
    const points = (ctx.circuitPoints.get(circuit.id) ?? []).flatMap((id) => ctx.doc.points.byId[id] ?? []);
    const worked = new Set(points.flatMap((p) => (POINT_KINDS[p.kind].isSwitch ? p.controls.flat() : [])));
    const dark: Point[] = points.filter((p) => POINT_KINDS[p.kind].isLight && !worked.has(p.id));
    const [first] = dark;
    if (first === undefined) return [];
    return [
      {
        about: circuit.id,
        circuit: circuit.id,
        point: first.id,
        at: placeOfPoint(ctx, first),
        message:
          dark.length === 1
            ? `No switch of circuit ${circuit.label} works the ${pointName(first)}: it is on whenever the circuit is.`
            : `No switch of circuit ${circuit.label} works ${list(dark.map((p) => p.label))}: they are on whenever the circuit is.`,
        fix: 'Pick the switch and tick the lights it switches, or accept a light that is always on with a reason.',
      },
    ];
  },
};

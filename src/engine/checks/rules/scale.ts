import { liesOnStorey, type KnownLength, type StoreyTracing } from '../../model/tracing.ts';
import { grainOfSource, knownLengthsProblem } from '../../takeoff/calibration.ts';
import { COMMON_PRACTICE, type Draft, type Rule } from '../rule.ts';

/** Two lengths of one drawing that disagree by more than this share point to a stretched or mistaken drawing. */
export const SCALE_DISAGREEMENT = 0.01;

const at = ({ lies }: StoreyTracing): Draft['at'] => ({
  storey: lies.storey,
  plan: { x: lies.x, y: lies.y },
  face: null,
  on: null,
});

export const scaleNone: Rule<'tracing'> = {
  id: 'scale-none',
  title: 'Tracing without a known length',
  looksAt: 'tracing',
  severity: 'warning',
  stage: 'drawing',
  source: COMMON_PRACTICE,
  find: (_ctx, tracing) => {
    if (!liesOnStorey(tracing)) return [];
    const { known, stated } = tracing.scale;
    const problem = knownLengthsProblem(known, grainOfSource(tracing.source));
    if (problem === null || (known.length === 0 && stated !== null)) return [];
    return [
      {
        about: tracing.id,
        at: at(tracing),
        message: `The tracing "${tracing.name}" has no scale yet: ${problem} Metres are not given until it has one.`,
        fix: 'Mark two lengths you have measured with a tape, at right angles to each other.',
      },
    ];
  },
};

export const scaleOne: Rule<'tracing'> = {
  id: 'scale-one',
  title: 'Tracing with one known length',
  looksAt: 'tracing',
  severity: 'warning',
  stage: 'drawing',
  source: COMMON_PRACTICE,
  find: (_ctx, tracing) => {
    if (!liesOnStorey(tracing)) return [];
    const { known, stated } = tracing.scale;
    const byWord = known.length === 0 && stated !== null;
    if (!byWord && (known.length !== 1 || knownLengthsProblem(known, grainOfSource(tracing.source)) !== null))
      return [];
    const by = byWord ? `what it says of itself only (${stated})` : 'one length only';
    return [
      {
        about: tracing.id,
        at: at(tracing),
        message: `The tracing "${tracing.name}" is scaled by ${by}: nothing shows whether it is stretched or the ${byWord ? 'scale' : 'length'} is wrong.`,
        fix: byWord
          ? 'Mark two lengths you have measured, at right angles to each other.'
          : 'Mark a second length you have measured, at right angles to the first.',
      },
    ];
  },
};

const mmPerPixel = (k: KnownLength): number => k.length / Math.hypot(k.bx - k.ax, k.by - k.ay);

export const scaleResidual: Rule<'tracing'> = {
  id: 'scale-residual',
  title: 'Known lengths that disagree',
  looksAt: 'tracing',
  severity: 'warning',
  stage: 'drawing',
  source: COMMON_PRACTICE,
  find: (_ctx, tracing) => {
    const { known } = tracing.scale;
    if (
      !liesOnStorey(tracing) ||
      known.length < 2 ||
      knownLengthsProblem(known, grainOfSource(tracing.source)) !== null
    )
      return [];
    const scales = known.map(mmPerPixel);
    const apart = Math.max(...scales) / Math.min(...scales) - 1;
    if (apart <= SCALE_DISAGREEMENT) return [];
    return [
      {
        about: tracing.id,
        at: at(tracing),
        message: `The known lengths of the tracing "${tracing.name}" disagree by ${(apart * 100).toFixed(1)} %: up to ${Math.round(apart * 1000)} mm in every metre.`,
        fix:
          tracing.source.kind === 'picture' && tracing.source.straighten === null
            ? 'Measure them again; a photograph of a drawing is straightened by its corners first.'
            : 'Measure them again, or scan the drawing flat and square.',
      },
    ];
  },
};

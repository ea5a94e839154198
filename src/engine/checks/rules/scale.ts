import type { KnownLength, Tracing } from '../../model/document.ts';
import { knownLengthsProblem } from '../../takeoff/calibration.ts';
import { COMMON_PRACTICE, type Draft, type Rule } from '../rule.ts';

/** Two lengths of one drawing that disagree by more than this share point to a stretched or mistaken drawing. */
export const SCALE_DISAGREEMENT = 0.01;

const at = (tracing: Tracing): Draft['at'] => ({
  storey: tracing.storey,
  plan: { x: tracing.x, y: tracing.y },
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
    const problem = knownLengthsProblem(tracing.known);
    if (problem === null) return [];
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
  find: (_ctx, tracing) =>
    tracing.known.length !== 1 || knownLengthsProblem(tracing.known) !== null
      ? []
      : [
          {
            about: tracing.id,
            at: at(tracing),
            message: `The tracing "${tracing.name}" is scaled by one length only: nothing shows whether it is stretched or the length is wrong.`,
            fix: 'Mark a second length you have measured, at right angles to the first.',
          },
        ],
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
    if (tracing.known.length < 2 || knownLengthsProblem(tracing.known) !== null) return [];
    const scales = tracing.known.map(mmPerPixel);
    const apart = Math.max(...scales) / Math.min(...scales) - 1;
    if (apart <= SCALE_DISAGREEMENT) return [];
    return [
      {
        about: tracing.id,
        at: at(tracing),
        message: `The known lengths of the tracing "${tracing.name}" disagree by ${(apart * 100).toFixed(1)} %: up to ${Math.round(apart * 1000)} mm in every metre.`,
        fix: 'Measure them again, or scan the drawing flat and square; a photograph may need straightening first.',
      },
    ];
  },
};

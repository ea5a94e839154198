import type { KnownLength, Underlay } from '../../model/document.ts';
import { knownLengthsProblem } from '../../takeoff/calibration.ts';
import { COMMON_PRACTICE, type Draft, type Rule } from '../rule.ts';

/** Two lengths of one drawing that disagree by more than this share point to a stretched or mistaken drawing. */
export const SCALE_DISAGREEMENT = 0.01;

const at = (underlay: Underlay): Draft['at'] => ({
  storey: underlay.storey,
  plan: { x: underlay.x, y: underlay.y },
  face: null,
  on: null,
});

export const scaleNone: Rule<'underlay'> = {
  id: 'scale-none',
  title: 'Drawing without a known length',
  looksAt: 'underlay',
  severity: 'warning',
  stage: 'drawing',
  source: COMMON_PRACTICE,
  find: (_ctx, underlay) => {
    const problem = knownLengthsProblem(underlay.known);
    if (problem === null) return [];
    return [
      {
        about: underlay.id,
        at: at(underlay),
        message: `The drawing "${underlay.name}" has no scale yet: ${problem} Metres are not given until it has one.`,
        fix: 'Mark two lengths you have measured with a tape, at right angles to each other.',
      },
    ];
  },
};

export const scaleOne: Rule<'underlay'> = {
  id: 'scale-one',
  title: 'Drawing with one known length',
  looksAt: 'underlay',
  severity: 'warning',
  stage: 'drawing',
  source: COMMON_PRACTICE,
  find: (_ctx, underlay) =>
    underlay.known.length !== 1 || knownLengthsProblem(underlay.known) !== null
      ? []
      : [
          {
            about: underlay.id,
            at: at(underlay),
            message: `The drawing "${underlay.name}" is scaled by one length only: nothing shows whether it is stretched or the length is wrong.`,
            fix: 'Mark a second length you have measured, at right angles to the first.',
          },
        ],
};

const mmPerPixel = (k: KnownLength): number => k.length / Math.hypot(k.bx - k.ax, k.by - k.ay);

export const scaleResidual: Rule<'underlay'> = {
  id: 'scale-residual',
  title: 'Known lengths that disagree',
  looksAt: 'underlay',
  severity: 'warning',
  stage: 'drawing',
  source: COMMON_PRACTICE,
  find: (_ctx, underlay) => {
    if (underlay.known.length < 2 || knownLengthsProblem(underlay.known) !== null) return [];
    const scales = underlay.known.map(mmPerPixel);
    const apart = Math.max(...scales) / Math.min(...scales) - 1;
    if (apart <= SCALE_DISAGREEMENT) return [];
    return [
      {
        about: underlay.id,
        at: at(underlay),
        message: `The known lengths of the drawing "${underlay.name}" disagree by ${(apart * 100).toFixed(1)} %: up to ${Math.round(apart * 1000)} mm in every metre.`,
        fix: 'Measure them again, or scan the drawing flat and square; a photograph may need straightening first.',
      },
    ];
  },
};

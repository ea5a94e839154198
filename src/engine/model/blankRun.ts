import type { Run } from './document.ts';

/** What a run has before anyone says otherwise: depth and tails as usual, nothing protected, nothing done. */
export const BLANK_RUN: Omit<
  Run,
  'id' | 'label' | 'circuit' | 'cable' | 'from' | 'to' | 'corners' | 'fixing' | 'origin'
> = {
  depth: null,
  protection: 'none',
  tailFrom: null,
  tailTo: null,
  locked: false,
  progress: { pulled: null, labelled: null, photographed: null, tested: null, covered: null },
  asLaid: { state: 'not-recorded', note: '' },
  notes: '',
};

import type { Edition } from '../../model/document.ts';
import type { Cited } from './cited.ts';

export const SMOKE: Cited<{ readonly fromWallOrLight: number; readonly toDoor: number }> = {
  values: { fromWallOrLight: 300, toDoor: 7500 },
  unit: 'mm',
  source: 'Approved Document B and BS 5839-6',
  evidence: 'two-sources',
};

export const HEAT: Cited<{ readonly farthest: number }> = {
  values: { farthest: 5300 },
  unit: 'mm',
  source: 'BS 5839-6',
  evidence: 'two-sources',
};

export const SINK: Cited<number> = {
  values: 300,
  unit: 'mm, level',
  source: 'guidance only, not BS 7671',
  evidence: 'two-sources',
};

export const HOB: Cited<number> = {
  values: 100,
  unit: 'mm, level',
  source: 'guidance only, not BS 7671',
  evidence: 'memory',
};

/** Cable to pipe, clear. */
export const PIPES: Cited<{ readonly hot: number; readonly gas: number }> = {
  values: { hot: 150, gas: 25 },
  unit: 'mm',
  source: 'practice on BS 7671 528.3 (gas: BS 6891)',
  evidence: 'memory',
};

export const BATHROOM: Cited<{
  readonly zone1Height: number;
  readonly zone2Beyond: number;
  readonly noTrayRadius: number;
}> = {
  values: { zone1Height: 2250, zone2Beyond: 600, noTrayRadius: 1200 },
  unit: 'mm',
  source: 'BS 7671 701.32',
  evidence: 'two-sources',
};

/** How far from zone 1 a socket-outlet must be. Both editions hold amendment 2; before it 3 m. */
export const BATHROOM_SOCKET: Cited<Readonly<Record<Edition | 'before-a2', number>>> = {
  values: { 'bs7671-2018-a3': 2500, 'bs7671-2018-a4': 2500, 'before-a2': 3000 },
  unit: 'mm from zone 1',
  source: 'BS 7671 701.512.3',
  evidence: 'two-sources',
};

/** Outside of a box as it is let into a wall, by gangs; all are as high as the one-gang box is wide. */
export const BOX_OUTSIDE: Cited<Readonly<Record<1 | 2, number>>> = {
  values: { 1: 72, 2: 133 },
  unit: 'mm',
  source: 'usual boxes to BS 4662',
  evidence: 'memory',
};

/** Mains and data cables side by side: kept this far apart, clear, where they are together for longer than this. */
export const MAINS_FROM_DATA: Cited<{ readonly apart: number; readonly together: number }> = {
  values: { apart: 50, together: 500 },
  unit: 'mm',
  source: 'common practice on BS 7671 528.1',
  evidence: 'memory',
};

/** Room that a clip takes between two cables side by side. */
export const CLIP_ROOM: Cited<number> = {
  values: 2,
  unit: 'mm',
  source: 'common practice',
  evidence: 'memory',
};

/** Depths of boxes: what each is for. */
export const BOX_DEPTHS: Cited<{
  readonly plateSwitch: number;
  readonly standard: number;
  readonly dryLining: number;
  readonly heavy: number;
}> = {
  values: { plateSwitch: 16, standard: 25, dryLining: 35, heavy: 47 },
  unit: 'mm',
  source: 'trade practice; BS 4662 depths',
  evidence: 'one-source',
};

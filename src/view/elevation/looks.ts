import type { AreaLook, LineLook, TextLook } from './marks.ts';
import type { Theme } from '../shared/theme.ts';

/** How an area is painted: fill with its strength, edge, and hatching where the answer is open. */
export interface AreaStyle {
  readonly fill: string | null;
  readonly alpha: number;
  readonly edge: string | null;
  readonly edgeAlpha: number;
  readonly dash: readonly number[];
  readonly hatch: boolean;
}

const area = (fill: string | null, alpha: number, more: Partial<AreaStyle> = {}): AreaStyle => ({
  fill,
  alpha,
  edge: null,
  edgeAlpha: 1,
  dash: [],
  hatch: false,
  ...more,
});

export function areaStyle(theme: Theme, look: AreaLook): AreaStyle {
  switch (look) {
    case 'wall':
      return area(theme.paper, 1);
    case 'opening':
      return area(theme.muted, 0.14, { edge: theme.muted });
    case 'thing':
      return area(theme.muted, 0.1, { edge: theme.muted, edgeAlpha: 0.7 });
    case 'no-cable':
      return area(theme.outside, 0.06, { edge: theme.outside, dash: [6, 4], hatch: true });
    case 'plate':
      return area(theme.paper, 1, { edge: theme.ink });
    case 'plate-ghost':
      return area(theme.paper, 0.6, { edge: theme.muted, dash: [3, 2] });
    case 'zone':
      return area(theme.inside, 0.11, { edge: theme.inside, edgeAlpha: 0.3 });
    case 'zone-reverse':
      return area(theme.inside, 0.06, { edge: theme.inside, edgeAlpha: 0.45, dash: [4, 3] });
    case 'zone-disputed':
      return area(theme.disputed, 0.06, { edge: theme.disputed, edgeAlpha: 0.45, hatch: true });
    case 'zone-disputed-reverse':
      return area(theme.disputed, 0.04, { edge: theme.disputed, edgeAlpha: 0.45, dash: [4, 3], hatch: true });
    case 'picked':
      return area(null, 0, { edge: theme.select });
  }
}

/** How a line is painted. `ticks`: crosses along it; `wave`: drawn as a wave. Both tell an answer without colour. */
export interface LineStyle {
  readonly colour: string;
  readonly width: number;
  readonly dash: readonly number[];
  readonly alpha: number;
  readonly ticks: boolean;
  readonly wave: boolean;
}

const line = (colour: string, width: number, more: Partial<LineStyle> = {}): LineStyle => ({
  colour,
  width,
  dash: [],
  alpha: 1,
  ticks: false,
  wave: false,
  ...more,
});

export function lineStyle(theme: Theme, look: LineLook): LineStyle {
  switch (look) {
    case 'floor':
      return line(theme.wall, 2.5);
    case 'top':
      return line(theme.wall, 1.5);
    case 'end':
      return line(theme.wall, 1);
    case 'opening':
      return line(theme.muted, 1);
    case 'leg-inside':
      return line(theme.inside, 3);
    case 'leg-outside':
      return line(theme.outside, 3, { ticks: true });
    case 'leg-disputed':
      return line(theme.disputed, 2.5, { wave: true });
    case 'leg-not-checked':
      return line(theme.unchecked, 2.5, { dash: [2, 4] });
    case 'leg-far':
      return line(theme.muted, 1.2, { dash: [5, 3], alpha: 0.8 });
    case 'riser':
      return line(theme.unchecked, 2.5, { dash: [2, 4] });
    case 'dimension':
      return line(theme.accent, 1, { alpha: 0.8 });
    case 'picked':
      return line(theme.select, 9, { alpha: 0.28 });
  }
}

/** How words are painted. */
export interface TextStyle {
  readonly colour: string;
  readonly size: number;
  readonly bold: boolean;
}

export function textStyle(theme: Theme, look: TextLook): TextStyle {
  const style = (colour: string, size: number, bold = false): TextStyle => ({ colour, size, bold });
  switch (look) {
    case 'caption':
      return style(theme.ink, 13, true);
    case 'small':
      return style(theme.muted, 11);
    case 'zone':
      return style(theme.inside, 10);
    case 'zone-disputed':
      return style(theme.disputed, 10);
    case 'point':
      return style(theme.ink, 11, true);
    case 'ghost':
      return style(theme.muted, 10);
    case 'length':
      return style(theme.ink, 11);
    case 'out':
      return style(theme.outside, 12, true);
    case 'disputed':
      return style(theme.disputed, 13, true);
    case 'dimension':
      return style(theme.accent, 11, true);
  }
}

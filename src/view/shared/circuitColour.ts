import type { Id, PlanDocument } from '../../engine/model/document.ts';
import type { Theme } from './theme.ts';

/** Each next circuit lies this far round the colour wheel (the golden angle), so that neighbours differ most. */
const TURN = 137.508;
const FIRST = 205;

/** The colour of a circuit, by its place in the list: a help to the eye only, its label always tells it too. */
export function circuitColour(doc: PlanDocument, circuit: Id | null, theme: Theme): string {
  const index = circuit === null ? -1 : doc.circuits.order.indexOf(circuit);
  if (index < 0) return theme.muted;
  const hue = Math.round((FIRST + index * TURN) % 360);
  return isDark(theme) ? `hsl(${hue} 60% 68%)` : `hsl(${hue} 62% 34%)`;
}

/** True when the paper is dark. Understands #rgb, #rrggbb and rgb(). */
export function isDark(theme: Theme): boolean {
  const hex = /^#([0-9a-f]{3,8})$/i.exec(theme.paper)?.[1];
  let rgb: number[];
  if (hex) {
    const wide = hex.length < 6 ? [...hex].map((c) => c + c).join('') : hex;
    rgb = [0, 2, 4].map((i) => parseInt(wide.slice(i, i + 2), 16));
  } else rgb = (theme.paper.match(/[\d.]+/g) ?? ['255', '255', '255']).slice(0, 3).map(Number);
  return (rgb[0] ?? 255) * 0.3 + (rgb[1] ?? 255) * 0.59 + (rgb[2] ?? 255) * 0.11 < 128;
}

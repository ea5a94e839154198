import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

const css = readFileSync('src/panels/ui/theme.css', 'utf8');

/** The light and the dark palette: each colour is written once, as `light-dark(light, dark)`. */
function palettes(): Record<string, string>[] {
  const pairs = [...css.matchAll(/--zw-([a-z-]+):\s*light-dark\(\s*(#\w+),\s*(#\w+)\s*\)/g)];
  return [2, 3].map((at) => Object.fromEntries(pairs.map((m) => [m[1] ?? '', m[at] ?? ''])));
}

/** Relative luminance and contrast ratio: WCAG 2.2, definitions of 1.4.3. */
function luminance(hex: string): number {
  const channel = (at: number): number => {
    const c = parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}
function contrast(a: string, b: string): number {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

const TEXT = ['ink', 'muted', 'accent', 'inside', 'outside', 'disputed', 'unchecked', 'good', 'bad', 'warn'];
const GROUNDS = ['paper', 'panel', 'well', 'desk'];

describe('colours of the theme', () => {
  test('every colour is written once, for light and dark together', () => {
    const [light, dark] = palettes();
    expect(Object.keys(light ?? {}).length).toBeGreaterThan(20);
    expect(light?.['paper']).not.toBe(dark?.['paper']);
    const names = [...css.matchAll(/^\s*(--zw-[a-z-]+):/gm)].map((m) => m[1]);
    expect(names.filter((name, at) => names.indexOf(name) !== at)).toEqual(['--zw-target']);
  });

  test.each(palettes().map((palette, at) => [at, palette] as const))(
    'palette %i: text stands out 4.5 to 1 on every ground (WCAG 2.2 AA)',
    (_at, palette) => {
      for (const ground of GROUNDS)
        for (const text of TEXT.filter((name) => ground !== 'desk' || name === 'ink')) {
          const ratio = contrast(palette[text] ?? '', palette[ground] ?? '');
          expect(ratio, `${text} on ${ground}`).toBeGreaterThanOrEqual(4.5);
        }
      expect(contrast(palette['accent-ink'] ?? '', palette['accent'] ?? '')).toBeGreaterThanOrEqual(4.5);
      expect(contrast(palette['muted'] ?? '', palette['accent-wash'] ?? '')).toBeGreaterThanOrEqual(4.5);
      expect(contrast(palette['rule-strong'] ?? '', palette['well'] ?? '')).toBeGreaterThanOrEqual(3);
    },
  );
});

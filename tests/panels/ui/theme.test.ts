import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

const css = readFileSync('src/panels/ui/theme.css', 'utf8');

/** The custom properties of each block of the theme that sets the paper's colour. */
function palettes(): Record<string, string>[] {
  return [...css.matchAll(/\{([^{}]*--zw-paper[^{}]*)\}/g)].map((block) =>
    Object.fromEntries(
      [...(block[1] ?? '').matchAll(/--zw-([a-z-]+):\s*([^;]+);/g)].map((m) => [m[1], m[2]]),
    ),
  );
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
  test('light, dark by preference and dark by choice are there, and the two darks are the same', () => {
    const [light, preferred, chosen] = palettes();
    expect(palettes()).toHaveLength(3);
    expect(preferred).toEqual(chosen);
    expect(light?.['paper']).not.toBe(chosen?.['paper']);
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

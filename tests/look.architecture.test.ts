import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';

const files = (ending: RegExp): { name: string; text: string }[] =>
  readdirSync('src', { recursive: true, encoding: 'utf8' })
    .map((name) => name.split(path.sep).join('/'))
    .filter((name) => ending.test(name))
    .map((name) => ({ name, text: readFileSync(path.join('src', name), 'utf8') }));
const sheets = files(/\.css$/).map(({ name, text }) => ({
  name,
  lines: text.trimEnd().split('\n').length,
  rules: text.replaceAll(/\/\*[\s\S]*?\*\//g, ''),
}));
const wrong = (test: (sheet: (typeof sheets)[number]) => boolean): string[] =>
  sheets.filter(test).map((sheet) => sheet.name);

describe('style sheets', () => {
  it('are at most 250 lines long', () => {
    expect(wrong((sheet) => sheet.lines > 250)).toEqual([]);
  });

  it('overrule nothing by force, and name no second colour beside a token', () => {
    expect(wrong((sheet) => sheet.rules.includes('!important'))).toEqual([]);
    expect(wrong((sheet) => /var\(--[a-z-]+\s*,/.test(sheet.rules))).toEqual([]);
  });

  it('use tokens that are set, and every token is used', () => {
    const all =
      sheets.map((sheet) => sheet.rules).join('\n') +
      files(/\.tsx?$/)
        .map((f) => f.text)
        .join('\n');
    const used = new Set([...all.matchAll(/var\((--zw-[a-z-]+)\)/g)].map((m) => m[1]));
    // The canvas asks for its colours by name.
    const theme = readFileSync('src/view/shared/theme.ts', 'utf8');
    for (const [, name] of theme.matchAll(/read\('([a-z-]+)'\)/g)) used.add(`--zw-${name}`);
    const set = new Set([...all.matchAll(/(--zw-[a-z-]+):/g)].map((m) => m[1]));
    expect([...used].sort()).toEqual([...set].sort());
  });

  it('lie beside the folder they dress', () => {
    expect(wrong((sheet) => !/^(panels|view)\/[a-z]+\//.test(sheet.name))).toEqual([]);
  });
});

describe('buttons', () => {
  it('are dressed by a class of their own, not by what holds them', () => {
    const bare = files(/\.tsx$/).flatMap(({ name, text }) =>
      [...text.matchAll(/<button\b((?:[^>{]|\{(?:[^{}]|\{[^{}]*\})*\})*)>/g)]
        .filter((m) => !/className=/.test(m[1] ?? ''))
        .map((m) => `${name}: ${(m[0] ?? '').slice(0, 60)}`),
    );
    expect(bare).toEqual([]);
    expect(
      wrong((sheet) => /(^|[\s>])button[^{}]*\{/.test(sheet.rules) && !/ui\/button\.css/.test(sheet.name)),
    ).toEqual([]);
  });
});

import { describe, expect, test } from 'vitest';
import { readPrefs } from '../../src/app/prefs.ts';

describe('preferences kept on the device', () => {
  const defaults = readPrefs(null);

  test('nothing kept gives the defaults', () => {
    expect(defaults).toEqual({ theme: 'system', units: 'mm', band: 0.38, bandOpen: true, offerSeen: false });
  });

  test.each(['', '{', 'null', '[]', '7', '"dark"'])('broken text %j gives the defaults', (text) => {
    expect(readPrefs(text)).toEqual(defaults);
  });

  test('each field is judged on its own', () => {
    expect(readPrefs('{"theme":"sepia","units":"ft","band":"big","bandOpen":false}')).toEqual({
      ...defaults,
      units: 'ft',
      bandOpen: false,
    });
  });

  test('the height of the band stays within bounds', () => {
    expect(readPrefs('{"band":99}').band).toBe(0.8);
    expect(readPrefs('{"band":-1}').band).toBe(0.12);
    expect(readPrefs('{"band":1e999}').band).toBe(defaults.band);
  });
});

import { describe, expect, test } from 'vitest';
import { QUICKEST_CANCEL, saveByPicker, type PickedFile } from '../../src/app/saveTo.ts';

const content = new TextEncoder().encode('{"format":"zonewright"}');

/** A file as the picker hands it out, kept in memory; `fail` breaks one of its steps, `spoil` changes what is read back. */
function file(
  over: { readonly fail?: 'open' | 'write'; readonly spoil?: boolean } = {},
): PickedFile & { held: Uint8Array } {
  const self = {
    name: 'plan.json',
    held: new Uint8Array(),
    async createWritable() {
      if (over.fail === 'open') throw new DOMException('Permission was lost.', 'NotAllowedError');
      return {
        async write(bytes: Uint8Array) {
          if (over.fail === 'write') throw new DOMException('The disk is full.', 'QuotaExceededError');
          self.held = bytes.slice(over.spoil ? 1 : 0);
        },
        async close() {},
      };
    },
    async getFile() {
      return { arrayBuffer: async () => self.held.slice().buffer };
    },
  };
  return self;
}

/** A clock that says these times one after the other. */
const clock =
  (...times: number[]) =>
  () =>
    times.shift() ?? 0;
const refuses = (name: string) => () =>
  Promise.reject<PickedFile>(new DOMException('The user aborted a request.', name));

describe('saving by the browser’s picker', () => {
  test('writes where it was picked, and reads it back', async () => {
    const picked = file();
    expect(await saveByPicker(async () => picked, content, clock(0, 0))).toEqual({
      state: 'saved',
      name: 'plan.json',
    });
    expect(picked.held).toEqual(content);
  });

  test('the person’s own cancel saves nothing', async () => {
    expect(await saveByPicker(refuses('AbortError'), content, clock(0, QUICKEST_CANCEL))).toEqual({
      state: 'cancelled',
    });
  });

  test('a picker that is shut before anyone could is no cancel, nor is one that is not allowed', async () => {
    const none = { state: 'no-picker', why: null };
    expect(await saveByPicker(refuses('AbortError'), content, clock(0, QUICKEST_CANCEL - 1))).toEqual(none);
    expect(await saveByPicker(refuses('SecurityError'), content, clock(0, 5000))).toEqual(none);
    expect(await saveByPicker(refuses('NotAllowedError'), content, clock(0, 5000))).toEqual(none);
  });

  test('a place that cannot be written says why', async () => {
    expect(await saveByPicker(async () => file({ fail: 'open' }), content, clock(0, 0))).toEqual({
      state: 'no-picker',
      why: 'Permission was lost.',
    });
    expect(await saveByPicker(async () => file({ fail: 'write' }), content, clock(0, 0))).toEqual({
      state: 'no-picker',
      why: 'The disk is full.',
    });
  });

  test('a file that reads back otherwise is told as damaged', async () => {
    expect(await saveByPicker(async () => file({ spoil: true }), content, clock(0, 0))).toEqual({
      state: 'damaged',
      name: 'plan.json',
    });
  });
});

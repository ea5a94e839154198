import { describe, expect, it, vi } from 'vitest';
import { encodeDocument } from '../../../src/document/codec/file.ts';
import { editJob } from '../../../src/document/commands/job.ts';
import { addPoint } from '../../../src/document/commands/points.ts';
import { addPicture } from '../../../src/document/commands/tracings.ts';
import { createStore } from '../../../src/document/store.ts';
import type { DocumentStore } from '../../../src/document/types.ts';
import { newDocument } from '../../../src/engine/model/defaults.ts';
import type { PlanDocument } from '../../../src/engine/model/document.ts';
import type { VaultPorts } from '../../../src/io/storage/ports.ts';
import type { Canary } from '../../../src/io/storage/restore.ts';
import { restore } from '../../../src/io/storage/restore.ts';
import { openVault } from '../../../src/io/storage/vault.ts';
import { inside, wired } from '../../document/plans.ts';
import { randomCommand, seeded } from '../../document/random.ts';
import { Device, failAt } from './browser.ts';

const titled = (title: string) => editJob({ title });
const titleOf = (doc: PlanDocument | null) => doc?.job.title;

/** A tab: a vault and the store it follows, begun on what was restored. */
async function openTab(device: Device, first: PlanDocument = wired(), change: Partial<VaultPorts> = {}) {
  const vault = await openVault(device.ports(change));
  const loaded = vault.load();
  const store = createStore(loaded.doc ?? first, loaded.rev);
  vault.follow(store);
  return { vault, store, loaded };
}

/** What the next visit would find if the tab were killed now: looks only, and shuts nobody out. */
async function restarted(device: Device) {
  const held = {
    request: (_name: string, _options: unknown, callback: (lock: null) => unknown) =>
      Promise.resolve(callback(null)),
  };
  const vault = await openVault(device.ports({ locks: held as unknown as LockManager }));
  return vault.load();
}

function play(store: DocumentStore, seed: number, steps: number): Map<number, string> {
  const random = seeded(seed);
  const texts = new Map([[store.getState().rev, encodeDocument(store.getState().doc)]]);
  for (let i = 0; i < steps; i++) {
    const roll = random();
    if (roll < 0.1) store.undo();
    else if (roll < 0.15) store.redo();
    else store.dispatch(randomCommand(store.getState().doc, random));
    texts.set(store.getState().rev, encodeDocument(store.getState().doc));
  }
  return texts;
}

describe('keeping a plan on the device', () => {
  it('has nothing at first, and says nothing about it', async () => {
    const loaded = await restarted(new Device());
    expect(loaded).toMatchObject({ doc: null, how: 'nothing', note: null });
  });

  it.each([1, 2, 3])('brings back every change, undo and redo, seed %i', async (seed) => {
    const device = new Device();
    const { vault, store } = await openTab(device);
    expect(vault.status()).toBe('saving');
    for (let part = 0; part < 4; part++) {
      play(store, seed * 10 + part, 60);
      expect(await vault.flush()).toBe(true);
      expect(vault.status()).toBe('saved');
      const loaded = await restarted(device);
      expect(loaded.rev).toBe(store.getState().rev);
      expect(loaded.doc && encodeDocument(loaded.doc)).toBe(encodeDocument(store.getState().doc));
      expect(loaded.note).toBeNull();
    }
  });

  it('writes by itself soon after a change, and tells its status', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device);
    await vault.flush();
    const told: string[] = [];
    vault.subscribe(() => told.push(vault.status()));
    store.dispatch(titled('Kiln room'));
    expect(vault.status()).toBe('saving');
    await vi.waitFor(() => expect(vault.status()).toBe('saved'));
    expect(told).toEqual(['saving', 'saved']);
    expect(titleOf((await restarted(device)).doc)).toBe('Kiln room');
  });

  it('carries the same journal on from visit to visit', async () => {
    const device = new Device();
    for (let visit = 0; visit < 5; visit++) {
      const { vault, store, loaded } = await openTab(device);
      expect(titleOf(loaded.doc)).toBe(visit === 0 ? undefined : `Visit ${visit - 1}`);
      expect(loaded.line).toBe(visit === 0 ? 0 : 1);
      store.dispatch(titled(`Visit ${visit}`));
      await vault.close();
    }
    expect((await restarted(device)).rev).toBe(5);
  });

  it('keeps another plan that is opened, whole', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device);
    store.dispatch(titled('First'));
    await vault.flush();
    store.replace(newDocument('Second'));
    store.dispatch(addPoint({ kind: 'joint', place: { on: 'ceiling', storey: 's1', x: 1, y: 2 } }));
    await vault.flush();
    const loaded = await restarted(device);
    expect(titleOf(loaded.doc)).toBe('Second');
    expect(loaded.doc?.points.order).toEqual(['p1']);
  });

  it('keeps the last of up to ten plans that were open before', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device);
    for (let i = 0; i < 15; i++) {
      store.replace(newDocument(`Plan ${i}`));
      await vault.flush();
    }
    const kept = (await device.records()).filter(([name]) => name === 'snapshots');
    expect(kept).toHaveLength(12);
    for (const [, key, value] of kept)
      if (key === 'a' || key === 'b')
        await device.set('snapshots', key, { ...(value as object), sha256: '' });
    device.files.files.clear();
    const loaded = await restarted(device);
    expect(loaded.note).toMatch(/this is the one before it/);
    expect(titleOf(loaded.doc)).toBe('Plan 13');
  });

  it('takes snapshots after 200 changes, in turns, and drops the journal both no longer need', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device);
    await vault.flush();
    for (let i = 0; i < 450; i++) {
      store.dispatch(titled(`Title ${i}`));
      if (i % 25 === 0) await vault.flush();
    }
    await vault.flush();
    const records = await device.records();
    expect(records.filter(([name]) => name === 'snapshots')).toHaveLength(2);
    expect(records.filter(([name]) => name === 'journal').length).toBeLessThan(300);
    expect(titleOf((await restarted(device)).doc)).toBe('Title 449');
  });

  it('writes what waits at once when the page is left, also before the first snapshot', async () => {
    for (const settle of [false, true]) {
      const device = new Device();
      const { vault, store } = await openTab(device, wired(), { writeAfter: 1_000_000 });
      if (settle) await vault.flush();
      store.dispatch(titled('Left'));
      vault.session.put({ stage: 'runs' });
      device.leave();
      const next = await openVault(device.ports({ locks: null }));
      expect(titleOf(next.load().doc)).toBe('Left');
      expect(next.load().note).toBeNull();
      expect(next.session.get()).toEqual({ stage: 'runs' });
    }
  });

  it('journals a small change small', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device);
    await vault.flush();
    store.dispatch(addPoint({ kind: 'socket', place: inside('w1', 2000, 450) }));
    await vault.flush();
    const journal = (await device.records()).filter(([name]) => name === 'journal');
    expect(journal).toHaveLength(1);
    expect(JSON.stringify(journal[0]?.[2]).length).toBeLessThan(1000);
  });

  it('leaves a plan made by a newer version alone', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device);
    store.replace({ ...wired(), version: 3 as 2 });
    await vault.close();
    const before = await device.records();
    const tab = await openTab(device);
    expect(tab.loaded.note).toMatch(/newer Zonewright/);
    expect(tab.loaded.newer).toContain('"version":3');
    expect(tab.vault.status()).toBe('read-only');
    tab.store.dispatch(titled('No'));
    await tab.vault.flush();
    expect(await device.records()).toEqual(before);
  });
});

describe('pictures', () => {
  it('come back from the database, and from the second copy after a wipe', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device);
    const bytes = new Uint8Array(5000).map((_, i) => i % 251);
    const asset = await vault.assets.put(bytes, 'image/png');
    expect(await vault.assets.get(asset)).toEqual(bytes);
    store.dispatch(
      addPicture({ storey: 's1', name: 'p', mediaType: 'image/png', asset, width: 9, height: 9 }),
    );
    await vault.close();
    const again = await openVault(device.ports());
    expect(await again.assets.get(asset)).toEqual(bytes);
    expect(await again.assets.get('0'.repeat(64))).toBeNull();
    await again.close();
    device.wipe();
    const wiped = await openVault(device.ports());
    expect(await wiped.assets.get(asset)).toEqual(bytes);
    device.files.files.set(`picture-${asset}`, bytes.with(0, 99));
    expect(await wiped.assets.get(asset)).toBeNull();
  });

  it('go when no kept state needs them', async () => {
    const device = new Device();
    const first = await openTab(device);
    const unused = await first.vault.assets.put(new Uint8Array([1, 2, 3]), 'image/png');
    await first.vault.close();
    const second = await openTab(device);
    await vi.waitFor(async () => expect(await second.vault.assets.get(unused)).toBeNull());
  });
});

describe('damage', () => {
  it('restores from the second copy when the database is gone, and says so', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device);
    store.dispatch(titled('Kept twice'));
    await vault.flush();
    store.replace(store.getState().doc);
    await vault.close();
    device.wipe();
    const tab = await openTab(device);
    expect(tab.loaded).toMatchObject({
      how: 'second-copy',
      note: expect.stringMatching(/second copy/) as string,
    });
    expect(titleOf(tab.loaded.doc)).toBe('Kept twice');
    await tab.vault.flush();
    const after = await restarted(device);
    expect(after).toMatchObject({ how: 'snapshot', note: null });
  });

  it('tells how many changes are missing from the canary', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device);
    await vault.flush();
    for (let i = 0; i < 3; i++) store.dispatch(titled(`T${i}`));
    await vault.flush();
    device.wipe();
    expect((await restarted(device)).note).toMatch(/last 3 changes could not be read/);
    device.files.files.clear();
    expect(await restarted(device)).toMatchObject({
      how: 'nothing',
      note: expect.stringMatching(/could not be read/) as string,
    });
  });

  it('never opens anything but a state that once was: 500 times damaged records', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device);
    await vault.flush();
    const texts = play(store, 77, 60);
    await vault.flush();
    const { line } = await restarted(device);
    const records = await device.records();
    const decode = (bytes: Uint8Array | undefined) => JSON.parse(new TextDecoder().decode(bytes)) as unknown;
    const second = decode(device.files.files.get('second-copy.json'));
    const canary = decode(new TextEncoder().encode(device.local.get('zonewright-canary'))) as Canary;
    const snapshots = records.filter(([name]) => name === 'snapshots').map(([, , value]) => value as object);
    const journal = records.filter(([name]) => name === 'journal').map(([, , value]) => value as object);
    expect(snapshots).toHaveLength(1);
    const outcomes: Record<string, number> = {};
    for (let seed = 1; seed <= 500; seed++) {
      const random = seeded(seed);
      const hurt = () => damage(random, journal);
      const lists = { snapshots: [...snapshots], journal: [...journal] as (object | undefined)[] };
      const where = random() < 0.3 ? lists.snapshots : lists.journal;
      const index = Math.floor(random() * where.length);
      where[index] = hurt()(where[index] as object) as object;
      if (random() < 0.2) lists.journal.reverse();
      if (random() < 0.2) lists.journal.push(journal[Math.floor(random() * journal.length)]);
      const other = random() < 0.4 ? undefined : random() < 0.4 ? hurt()(second as object) : second;
      const loaded = await restore({ ...lists, second: other, canary });
      if (loaded.doc === null) expect(loaded.how, `seed ${seed}`).toBe('nothing');
      else {
        expect(loaded.line, `seed ${seed}`).toBe(line);
        expect(encodeDocument(loaded.doc), `seed ${seed}`).toBe(texts.get(loaded.rev));
      }
      if (loaded.doc === null || loaded.rev < store.getState().rev)
        expect(loaded.note, `seed ${seed}`).toMatch(/could not be read/);
      outcomes[loaded.how] = (outcomes[loaded.how] ?? 0) + 1;
    }
    expect(Object.keys(outcomes).sort()).toEqual(['journal', 'nothing', 'second-copy', 'snapshot']);
  });
});

/** One way to damage a record: gone, cut short, one bit flipped, another's contents, or a field of nonsense. */
function damage(random: () => number, others: readonly object[]): (record: object) => object | undefined {
  const other = others[Math.floor(random() * others.length)] as { text: string; hash: string };
  const kind = Math.floor(random() * 6);
  const share = random();
  return (record) => {
    const text = (record as { text: string }).text;
    const at = Math.floor(share * text.length);
    const fields = Object.keys(record);
    const flipped = text.slice(0, at) + String.fromCharCode(text.charCodeAt(at) ^ 1) + text.slice(at + 1);
    if (kind === 0) return undefined;
    if (kind === 1) return { ...record, text: text.slice(0, at) };
    if (kind === 2) return { ...record, text: flipped };
    if (kind === 3) return { ...record, text: other.text };
    if (kind === 4) return { ...record, text: other.text, hash: other.hash };
    return { ...record, [fields[Math.floor(share * fields.length)] ?? 'text']: share < 0.5 ? 1 : null };
  };
}

describe('when storage fails', () => {
  it.each([false, true])(
    'at any call (from then on: %s), editing goes on and all is saved after relief',
    async (lasting) => {
      let reachedEnd = false;
      for (let n = 1; !reachedEnd; n++) {
        const device = new Device();
        const start = await openTab(device);
        start.store.dispatch(titled('Before'));
        await start.vault.close();
        const faults = failAt(n, lasting);
        const { vault, store, loaded } = await openTab(device);
        try {
          for (let i = 0; i < 5; i++) {
            store.dispatch(titled(`Edit ${i}`));
            await vault.flush();
          }
          store.replace({ ...store.getState().doc });
          await vault.flush();
          store.dispatch(titled('Last'));
          device.leave();
          if (lasting && faults.count() >= n) {
            expect(await vault.flush(), `call ${n}`).toBe(false);
            expect(vault.status(), `call ${n}`).toBe('not-saved');
            expect(vault.reason()).toMatch(/no space left/);
          }
          expect(titleOf(store.getState().doc)).toBe('Last');
          reachedEnd = faults.count() < n;
        } finally {
          faults.restore();
        }
        if (loaded.doc !== null || !lasting) expect(titleOf(loaded.doc), `call ${n}`).toBe('Before');
        await vault.flush();
        expect(await vault.flush(), `call ${n}`).toBe(true);
        expect(vault.reason()).toBeNull();
        const after = await restarted(device);
        expect(titleOf(after.doc), `call ${n}`).toBe('Last');
        // Even where it could not be read at the time, the plan before was not written over.
        expect(JSON.stringify(await device.records()), `call ${n}`).toMatch(/title\W+Before/);
        expect(n).toBeLessThan(500);
      }
    },
    60_000,
  );

  it('tries again by itself', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device, wired(), { retryAfter: [5] });
    await vault.flush();
    const faults = failAt(1, true);
    store.dispatch(titled('Patience'));
    await vi.waitFor(() => expect(vault.status()).toBe('not-saved'));
    faults.restore();
    await vi.waitFor(() => expect(vault.status()).toBe('saved'));
    expect(titleOf((await restarted(device)).doc)).toBe('Patience');
  });

  it('works without any storage, and says that nothing is kept', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device, wired(), { indexedDB: null, files: null, canary: null });
    store.dispatch(titled('In memory'));
    expect(await vault.flush()).toBe(false);
    expect(vault.status()).toBe('not-saved');
    expect(vault.reason()).toMatch(/does not let the page store/);
  });

  it('keeps the second copy going without a database', async () => {
    const device = new Device();
    const { vault, store } = await openTab(device, wired(), { indexedDB: null });
    store.dispatch(titled('Second only'));
    await vault.flush();
    expect(await vault.flush()).toBe(false);
    expect(titleOf((await restarted(device)).doc)).toBe('Second only');
  });

  it('does without the second copy', async () => {
    const device = new Device();
    device.files.failing = true;
    const { vault, store } = await openTab(device);
    store.dispatch(titled('One copy'));
    expect(await vault.flush()).toBe(true);
    expect(titleOf((await restarted(device)).doc)).toBe('One copy');
  });
});

describe('two tabs', () => {
  it('lets only one write, and the other take over without a change lost', async () => {
    const device = new Device();
    const one = await openTab(device);
    one.store.dispatch(titled('One'));
    await one.vault.flush();
    const two = await openTab(device);
    expect(two.vault.status()).toBe('read-only');
    expect(two.vault.reason()).toMatch(/another tab/);
    two.store.dispatch(titled('Two, too early'));
    expect(await two.vault.flush()).toBe(false);
    one.store.dispatch(titled('One again'));
    await one.vault.flush();
    const loaded = await two.vault.takeOver();
    expect(titleOf(loaded.doc)).toBe('One again');
    two.store.replace(loaded.doc as PlanDocument);
    two.store.dispatch(titled('Two'));
    expect(await two.vault.flush()).toBe(true);
    await vi.waitFor(() => expect(one.vault.status()).toBe('read-only'));
    one.store.dispatch(titled('One, too late'));
    expect(await one.vault.flush()).toBe(false);
    expect(titleOf((await restarted(device)).doc)).toBe('Two');
  });

  it('stops a tab that never heard it was replaced: the fence', async () => {
    const device = new Device();
    const one = await openTab(device, wired(), { locks: null });
    one.store.dispatch(titled('One'));
    await one.vault.flush();
    const two = await openTab(device, wired(), { locks: null });
    two.store.dispatch(titled('Two'));
    expect(await two.vault.flush()).toBe(true);
    one.store.dispatch(titled('One, too late'));
    expect(await one.vault.flush()).toBe(false);
    expect(one.vault.status()).toBe('read-only');
    expect(titleOf((await restarted(device)).doc)).toBe('Two');
  });

  it('frees the plan for another tab when it closes', async () => {
    const device = new Device();
    const one = await openTab(device);
    await one.vault.close();
    expect((await openTab(device)).vault.status()).not.toBe('read-only');
  });
});

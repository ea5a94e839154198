import { afterEach, describe, expect, it, vi } from 'vitest';
import { editJob } from '../../../src/document/commands/job.ts';
import { createStore } from '../../../src/document/store.ts';
import type { VaultPorts } from '../../../src/io/storage/ports.ts';
import type { News } from '../../../src/io/storage/vault.ts';
import { openVault } from '../../../src/io/storage/vault.ts';
import { wired } from '../../document/plans.ts';
import { Device } from './browser.ts';

const undo: (() => void)[] = [];
afterEach(() => undo.splice(0).forEach((each) => each()));

/** Has another function stand in for one of the browser's until the test is over, or until what is returned is called. */
function stand(
  proto: object,
  method: string,
  by: (original: never) => (...args: never[]) => unknown,
): () => void {
  const target = proto as Record<string, unknown>;
  const original = target[method];
  const instead = by(original as never) as (...args: unknown[]) => unknown;
  target[method] = function (this: unknown, ...args: unknown[]) {
    return instead.apply(this, args);
  };
  const back = (): void => void (target[method] = original);
  undo.push(back);
  return back;
}

async function openTab(device: Device, change: Partial<VaultPorts> = {}) {
  const vault = await openVault(device.ports(change));
  const loaded = vault.load();
  const store = createStore(loaded.doc ?? wired(), loaded.rev);
  const news: News[] = [];
  vault.onNews((each) => news.push(each));
  vault.follow(store);
  const title = async (text: string): Promise<boolean> => {
    store.dispatch(editJob({ title: text }));
    return vault.flush();
  };
  return { vault, store, loaded, news, title };
}
const titleNow = async (device: Device) => {
  const { vault, loaded } = await openTab(device);
  await vault.close();
  return { title: loaded.doc?.job.title, note: loaded.note };
};

/** A full device: every transaction that would write is refused, reading goes on. */
function full(): () => void {
  return stand(
    globalThis.IDBDatabase.prototype,
    'transaction',
    (original: IDBDatabase['transaction']) =>
      function (
        this: IDBDatabase,
        stores: string[],
        mode?: IDBTransactionMode,
        options?: IDBTransactionOptions,
      ) {
        if (mode === 'readwrite') throw new DOMException('full', 'QuotaExceededError');
        return original.call(this, stores, mode, options);
      },
  );
}

describe('a full device', () => {
  it('is read all the same when the page is opened, and what was saved is neither lost nor written over', async () => {
    const device = new Device();
    const first = await openTab(device);
    for (let i = 1; i <= 9; i++) expect(await first.title(`Saved ${i}`)).toBe(true);
    const room = full();
    const second = await openTab(device, { locks: null });
    expect(second.loaded.doc?.job.title).toBe('Saved 9');
    expect(second.vault.status()).toBe('not-saved');
    expect(second.vault.reason()).toMatch(/no space left/);
    expect(await second.title('While full')).toBe(false);
    room();
    expect(await second.vault.flush()).toBe(true);
    expect(await titleNow(device)).toEqual({ title: 'While full', note: null });
  });
});

describe('a database that could not be read at the start', () => {
  it('has what it held put on the shelf before anything new is written, and says so', async () => {
    const device = new Device();
    const first = await openTab(device);
    await first.title('Acknowledged');
    await first.vault.close();
    device.files.files.clear();
    const readable = stand(globalThis.IDBFactory.prototype, 'open', () => () => {
      throw new DOMException('bad block', 'UnknownError');
    });
    const second = await openTab(device);
    expect(second.loaded.doc).toBeNull();
    await second.title('Another');
    readable();
    for (let i = 0; i < 450; i++) {
      second.store.dispatch(editJob({ title: `Another ${i}` }));
      if (i % 50 === 0) await second.vault.flush();
    }
    expect(await second.vault.flush()).toBe(true);
    expect(second.news.map((each) => each.kind)).toEqual(['found']);
    const kept = (await device.records()).filter(
      ([name, key]) => name === 'snapshots' && /^before/.test(String(key)),
    );
    expect(kept.map(([, , value]) => (value as { text: string }).text)).toEqual([
      expect.stringContaining('"title":"Acknowledged"'),
    ]);
    expect((await titleNow(device)).title).toBe('Another 449');
  });
});

describe('calls that never answer', () => {
  const never = () => () => new Promise(() => undefined);
  const ports: Readonly<Record<string, Partial<VaultPorts>>> = {
    'locks.request': { locks: { request: never() } as unknown as LockManager },
    'the private files': {
      files: { read: never(), write: never(), remove: never(), names: never() } as never,
    },
  };
  it.each(Object.keys(ports))('%s: the page opens with the plan and saves', async (name) => {
    const device = new Device();
    const before = await openTab(device);
    await before.title('Before');
    await before.vault.close();
    const tab = await openTab(device, ports[name]);
    expect(tab.loaded.doc?.job.title).toBe('Before');
    expect(await tab.title('After')).toBe(true);
    expect(await titleNow(device)).toMatchObject({ title: 'After' });
  });

  it('indexedDB.open: the second copy is opened, and all is saved when it answers again', async () => {
    const device = new Device();
    const before = await openTab(device);
    await before.title('Before');
    before.store.replace(before.store.getState().doc);
    await before.vault.close();
    const answers = stand(globalThis.IDBFactory.prototype, 'open', () => () => ({}));
    const tab = await openTab(device);
    expect(tab.loaded.doc?.job.title).toBe('Before');
    expect(await tab.title('After')).toBe(false);
    expect(tab.vault.status()).toBe('not-saved');
    answers();
    await tab.vault.flush();
    expect(await tab.vault.flush()).toBe(true);
    expect((await titleNow(device)).title).toBe('After');
  });

  it.each(['readonly', 'readwrite'] as const)(
    'a %s transaction that gets an error and never ends: it is given up, tried again, and saved',
    async (mode) => {
      const device = new Device();
      const before = await openTab(device);
      await before.title('Before');
      await before.vault.close();
      // The database is closed by the browser in the middle: an error reaches the transaction, no abort follows.
      const transaction = (original: IDBDatabase['transaction']) =>
        function (
          this: IDBDatabase,
          stores: string[],
          wanted?: IDBTransactionMode,
          options?: IDBTransactionOptions,
        ) {
          const tx = original.call(this, stores, wanted, options);
          if (wanted !== mode) return tx;
          let count = 0;
          const dead = {
            objectStore: (name: string) => (count++, tx.objectStore(name)),
            abort: () => undefined,
            error: null,
          };
          return Object.assign(dead, { touched: () => count }) as unknown as IDBTransaction;
        };
      const tab = mode === 'readonly' ? null : await openTab(device);
      const alive = stand(globalThis.IDBDatabase.prototype, 'transaction', transaction as never);
      const open = tab ?? (await openTab(device));
      expect(await open.title('After')).toBe(mode === 'readonly' ? open.vault.status() === 'saved' : false);
      expect(open.vault.status()).not.toBe('saving');
      alive();
      await open.vault.flush();
      expect(await open.vault.flush()).toBe(true);
      expect((await titleNow(device)).title).toBe('After');
    },
  );
});

describe('storage cleared while the plan is open', () => {
  it.each(['noticed at the next write', 'noticed when the browser closes the database'])(
    '%s: all is written anew, and said',
    async (how) => {
      const device = new Device();
      const tab = await openTab(device);
      await tab.title('One');
      await tab.title('Two');
      const db = await new Promise<IDBDatabase>((resolve) => {
        const request = device.factory.open('zonewright');
        request.onsuccess = () => resolve(request.result);
      });
      await new Promise<void>((resolve) => {
        const tx = db.transaction([...db.objectStoreNames], 'readwrite');
        for (const name of db.objectStoreNames) tx.objectStore(name).clear();
        tx.oncomplete = () => resolve();
      });
      db.close();
      device.files.files.clear();
      device.local.clear();
      if (how.includes('next write')) expect(await tab.title('Three')).toBe(true);
      else {
        const held = (tab.vault as unknown as { db: IDBDatabase }).db;
        held.close();
        held.onclose?.(new Event('close'));
        await vi.waitFor(() => expect(tab.news).toHaveLength(1));
        await tab.vault.flush();
      }
      expect(tab.news.map((each) => each.kind)).toEqual(['cleared']);
      expect(tab.vault.status()).toBe('saved');
      const { title } = tab.store.getState().doc.job;
      await tab.vault.close();
      expect(await titleNow(device)).toEqual({ title, note: null });
    },
  );
});

describe('the second copy', () => {
  it('follows soon after the last change, so that a torn database costs seconds', async () => {
    const device = new Device();
    const tab = await openTab(device, { secondAfter: 5 });
    await tab.title('First');
    await tab.title('Torn off');
    const copy = () => new TextDecoder().decode(device.files.files.get('second-copy.json'));
    await vi.waitFor(() => expect(copy()).toContain('Torn off'));
    device.wipe();
    expect((await titleNow(device)).title).toBe('Torn off');
  });
});

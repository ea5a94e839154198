import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { encodeDocument } from '../../../src/document/codec/file.ts';
import { migrated } from '../../../src/document/codec/migrate.ts';
import { VERSION } from '../../../src/document/codec/planFile.ts';
import { editJob } from '../../../src/document/commands/job.ts';
import { createStore } from '../../../src/document/store.ts';
import { openVault } from '../../../src/io/storage/vault.ts';
import { Device } from './browser.ts';

interface KeptBefore {
  readonly records: readonly (readonly [string, IDBValidKey, { readonly text: string }])[];
  readonly second: string;
  readonly canary: string;
  /** The plan as version 1 showed it last, and wrote it to a file. */
  readonly shown: Readonly<Record<string, unknown>>;
}

/** A stored snapshot and journal of the program of format version 1: made by that program, kept for ever. */
const BEFORE = JSON.parse(readFileSync(new URL('old/kept-v1.json', import.meta.url), 'utf8')) as KeptBefore;

async function deviceBefore(): Promise<Device> {
  const device = new Device();
  await device.make();
  for (const [store, key, value] of BEFORE.records) await device.set(store, key, value);
  device.files.files.set('second-copy.json', new TextEncoder().encode(BEFORE.second));
  device.local.set('zonewright-canary', BEFORE.canary);
  return device;
}

const shownNow = (): string => {
  const { version, ...rest } = migrated(BEFORE.shown, 1);
  expect(version).toBe(VERSION);
  return encodeDocument({ ...rest, version } as never);
};

it('the stored journal is one of version 1, with cables, boxes, pictures and no-cable places in it', () => {
  const snapshot = BEFORE.records.find(([store]) => store === 'snapshots')?.[2].text ?? '';
  expect(JSON.parse(snapshot)).toMatchObject({ version: 1, catalogue: {}, underlays: {} });
  const journal = BEFORE.records.filter(([store]) => store === 'journal').map(([, , entry]) => entry.text);
  for (const table of ['cables', 'boxes', 'underlays', 'things', 'acceptances'])
    expect(journal.some((text) => text.includes(`"table":"${table}"`))).toBe(true);
  expect(journal.join()).toContain('"kind":"keep-out"');
});

it('a plan kept by version 1 opens whole: every change of its journal, in the form of this version', async () => {
  const vault = await openVault((await deviceBefore()).ports());
  const { doc, how, note, rev } = vault.load();
  expect({ how, note, rev }).toEqual({ how: 'journal', note: null, rev: 37 });
  expect(doc && encodeDocument(doc)).toBe(shownNow());
  expect(doc?.tracings.byId['u1']?.name).toBe('ground floor.png');
  expect(doc?.cables.byId['te2-5']?.remnants).toEqual([12.5, 7]);
  expect(doc?.job.title).not.toBe('Taken back');
  await vault.close();
});

it('goes on in a new line with a snapshot of this version, and comes back from it', async () => {
  const device = await deviceBefore();
  const vault = await openVault(device.ports());
  const store = createStore(vault.load().doc as never, vault.load().rev);
  vault.follow(store);
  store.dispatch(editJob({ title: 'Gone on' }));
  await vault.close();
  const again = await openVault(device.ports());
  expect(again.load()).toMatchObject({ line: 2, rev: 38, note: null, clean: true });
  expect(again.load().doc?.job.title).toBe('Gone on');
  await again.close();
  // Not one change of this version stands in the journal of the line before.
  for (const [name, , value] of await device.records())
    if (name === 'journal')
      expect(value).toSatisfy((e: { line: number; rev: number }) => e.line === 2 || e.rev <= 37);
});

it('is also brought up from the second copy alone', async () => {
  const device = new Device();
  device.files.files.set('second-copy.json', new TextEncoder().encode(BEFORE.second));
  const { doc, how } = (await openVault(device.ports())).load();
  expect(how).toBe('second-copy');
  expect(doc?.version).toBe(VERSION);
});

it('a tab that still runs the program before can neither write once this one does, nor open the database again', async () => {
  const device = await deviceBefore();
  const open = () => device.factory.open('zonewright', 1);
  const told: number[] = [];
  const old = await new Promise<IDBDatabase>((resolve, reject) => {
    const request = open();
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('no'));
  });
  // As version 1 does: it closes, and says that a newer one was opened.
  old.onversionchange = (event) => {
    told.push(event.newVersion ?? 0);
    old.close();
  };
  const looking = await openVault(device.ports({ locks: neverFree() }));
  expect(looking.load().doc?.version).toBe(VERSION);
  expect(told).toEqual([]);
  const vault = await openVault(device.ports());
  expect(told).toEqual([2]);
  expect(() => old.transaction('journal', 'readwrite')).toThrow();
  const again = await new Promise<string>((resolve) => {
    const request = open();
    request.onsuccess = () => resolve('opened');
    request.onerror = () => resolve(request.error?.name ?? '');
  });
  expect(again).toBe('VersionError');
  await vault.close();
});

const neverFree = (): LockManager =>
  ({
    request: (_name: string, _options: unknown, callback: (lock: null) => unknown) =>
      Promise.resolve(callback(null)),
  }) as unknown as LockManager;

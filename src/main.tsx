import { createRoot } from 'react-dom/client';
import type { DocumentStore } from './document/types.ts';
import { createStore } from './document/store.ts';
import type { Derived } from './engine/derive/types.ts';
import { newDocument } from './engine/model/defaults.ts';
import type { PlanDocument } from './engine/model/document.ts';
import type { DerivedSource } from './tools/app.ts';
import { createRunner, type ToolTable } from './tools/runner.ts';
import { createSession, createViewer, pruneSession, startSession } from './tools/session.ts';
import { createAssets } from './panels/assets.ts';
import { createFiles } from './panels/files.ts';
import { loadPrefs } from './panels/prefs.ts';
import type { Program, SaveState } from './panels/program.ts';
import { createQuestion } from './panels/question.ts';
import { Shell } from './panels/Shell.tsx';
import './panels/theme.css';
import './panels/shell.css';
import './panels/controls.css';

const parts: Record<string, Record<string, unknown>> = import.meta.glob(
  ['./engine/derive/derive*.ts', './document/codec/*.ts', './tools/*/*.ts', './tools/table.ts'],
  { eager: true },
);
const part = <T,>(name: string): T | undefined =>
  Object.values(parts)
    .map((each) => each[name])
    .find((each) => each !== undefined) as T | undefined;

const sampleUrls: Record<string, string> = import.meta.glob('../sample-plans/*.json', {
  query: '?url',
  import: 'default',
  eager: true,
});
const nothing: Derived = {
  fabrics: new Map(),
  zones: new Map(),
  runs: new Map(),
  findings: [],
  takeOff: { scale: { state: 'typed' }, runs: new Map(), cables: [], sundries: [] },
  drums: [],
};

loadPrefs();
const doc = newDocument('Untitled plan');
const store: DocumentStore = createStore(doc);
const deriveAll = part<(doc: PlanDocument) => Derived>('deriveAll');
const derived: DerivedSource = (() => {
  const compute = () => ({
    derived: deriveAll?.(store.getState().doc) ?? nothing,
    rev: store.getState().rev,
  });
  let held = compute();
  const listeners = new Set<() => void>();
  store.subscribe(() => {
    held = compute();
    for (const listener of listeners) listener();
  });
  return {
    get: () => held,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
})();
const session = createSession(startSession(doc));
store.subscribe((state) => session.set(pruneSession(session.getState(), state.doc)));
const tools: Record<string, ToolTable[keyof ToolTable]> = {};
for (const module of Object.values(parts))
  for (const value of Object.values(module))
    if (typeof value === 'object' && value !== null && 'step' in value && 'start' in value && 'id' in value)
      tools[String((value as { id: unknown }).id)] = value as ToolTable[keyof ToolTable];
const viewer = createViewer();
const leaving = createQuestion();
const assets = createAssets({ put: () => Promise.resolve(''), get: () => Promise.resolve(null) }, (text) =>
  session.set({ notice: { text, tone: 'bad', at: Date.now() } }),
);
const files = createFiles({
  store,
  session,
  viewer,
  assets,
  leaving,
  samples: Object.entries(sampleUrls).map(([path, file]) => ({ file, title: path, about: '' })),
  say: (text, tone) => session.set({ notice: { text, tone, at: Date.now() } }),
});
const none: SaveState = { state: 'none', text: 'Not kept yet' };
const program: Program = {
  store,
  session,
  derived,
  runner: createRunner({ store, session, derived, tools, now: () => Date.now() }),
  assets,
  viewer,
  files,
  leaving,
  isSample: files.isSample,
  today: () => new Date().toISOString().slice(0, 10),
  saving: { get: () => none, subscribe: () => () => undefined, takeOver: () => undefined },
};
Object.assign(window, { zonewright: program });
const root = document.getElementById('root');
if (!root) throw new Error('the page has no root');
createRoot(root).render(<Shell program={program} />);
const first = files.samples[0];
if (first) void files.openSample(first);

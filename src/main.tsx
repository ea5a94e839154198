import { createRoot } from 'react-dom/client';
import type { FunctionComponent } from 'react';
import type { DocumentState, DocumentStore } from './document/types.ts';
import type { Derived } from './engine/derive/types.ts';
import { newDocument } from './engine/model/defaults.ts';
import type { PlanDocument } from './engine/model/document.ts';
import type { App, DerivedSource } from './tools/app.ts';
import { createRunner, type ToolTable } from './tools/runner.ts';
import { createSession, createViewer, startSession } from './tools/session.ts';
import './panels/theme.css';

// Until every part has landed, parts are found by where they will stand.
const parts: Record<string, Record<string, unknown>> = import.meta.glob(
  [
    './document/store.ts',
    './engine/derive/derive*.ts',
    './view/plan/PlanView.tsx',
    './view/elevation/ElevationBand.tsx',
    './tools/*/*.ts',
    './tools/table.ts',
  ],
  { eager: true },
);
const part = <T,>(path: string, name: string): T | undefined => parts[path]?.[name] as T | undefined;

const tinyStore = (first: PlanDocument): DocumentStore => {
  let state: DocumentState = { doc: first, rev: 0, canUndo: null, canRedo: null };
  const listeners = new Set<Parameters<DocumentStore['subscribe']>[0]>();
  const set = (doc: PlanDocument) => {
    state = { ...state, doc, rev: state.rev + 1 };
    for (const listener of listeners) listener(state, 'all', null);
  };
  return {
    getState: () => state,
    dispatch(command) {
      const outcome = command.apply(state.doc);
      if (outcome.ok) set(outcome.doc);
      return outcome;
    },
    undo: () => undefined,
    redo: () => undefined,
    replace: set,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
};
const nothing: Derived = {
  fabrics: new Map(),
  zones: new Map(),
  runs: new Map(),
  findings: [],
  takeOff: { scale: { state: 'typed' }, runs: new Map(), cables: [], sundries: [] },
  drums: [],
};

const doc = newDocument('Untitled plan');
const make = part<(doc: PlanDocument) => DocumentStore>('./document/store.ts', 'createStore') ?? tinyStore;
const store = make(doc);
const deriveAll = part<(doc: PlanDocument) => Derived>('./engine/derive/deriveAll.ts', 'deriveAll');
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
const tools: Record<string, ToolTable[keyof ToolTable]> = {};
for (const module of Object.values(parts))
  for (const value of Object.values(module))
    if (typeof value === 'object' && value !== null && 'step' in value && 'start' in value && 'id' in value)
      tools[String((value as { id: unknown }).id)] = value as ToolTable[keyof ToolTable];
const app: App = {
  store,
  session,
  derived,
  runner: createRunner({ store, session, derived, tools, now: () => Date.now() }),
  assets: {
    picture: () => null,
    bytes: () => Promise.resolve(null),
    add: () => Promise.reject(new Error('no vault yet')),
    subscribe: () => () => undefined,
  },
  viewer: createViewer(),
};
Object.assign(window, { zonewright: app });
const View = (path: string, name: string): FunctionComponent<{ app: App }> =>
  part<FunctionComponent<{ app: App }>>(path, name) ?? (() => <p>{name} has not landed</p>);
const PlanView = View('./view/plan/PlanView.tsx', 'PlanView');
const ElevationBand = View('./view/elevation/ElevationBand.tsx', 'ElevationBand');
createRoot(document.getElementById('root')!).render(
  <main style={{ display: 'grid', gridTemplateRows: '1fr 260px', height: '100dvh' }}>
    <PlanView app={app} />
    <ElevationBand app={app} />
  </main>,
);

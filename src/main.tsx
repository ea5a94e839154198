import { createRoot } from 'react-dom/client';
import type { DocumentStore } from './document/types.ts';
import { createStore } from './document/store.ts';
import { newDocument } from './engine/model/defaults.ts';
import { createRunner } from './tools/runner.ts';
import { LATER, TOOLS } from './tools/toolTable.ts';
import { createSession, createViewer, pruneSession, startSession } from './tools/session.ts';
import { createAssets } from './panels/assets.ts';
import { createFiles } from './panels/files.ts';
import { loadPrefs } from './panels/prefs.ts';
import type { Program, SaveState } from './panels/program.ts';
import { createQuestion } from './panels/question.ts';
import { followDerived } from './workers/deriveClient.ts';
import { Shell } from './panels/Shell.tsx';
import './panels/theme.css';
import './panels/shell.css';
import './panels/controls.css';

const sampleUrls: Record<string, string> = import.meta.glob('../sample-plans/*.json', {
  query: '?url',
  import: 'default',
  eager: true,
});
const SAMPLES: readonly (readonly [string, string, string])[] = [
  ['pottery-studio', 'Pottery studio', 'One storey, sockets, lighting and a kiln, all in its zones'],
  [
    'pottery-studio-mistakes',
    'Pottery studio with mistakes',
    'The same with a mistake for each rule; its notes list them',
  ],
  [
    'pottery-studio-drawing-mistakes',
    'Pottery studio, drawing not to scale',
    'Pictures with wrong, single and no known lengths',
  ],
  ['two-storeys', 'Two storeys', 'A second storey and a sloping ceiling'],
];

loadPrefs();
const doc = newDocument('Untitled plan');
const store: DocumentStore = createStore(doc);
const session = createSession(startSession(doc));
store.subscribe((state) => session.set(pruneSession(session.getState(), state.doc)));
const worker = new Worker(new URL('./workers/derive.worker.ts', import.meta.url), { type: 'module' });
const derived = followDerived(store, worker, (message) =>
  session.set({
    notice: {
      text: `The checks have stopped: ${message}. Your plan is kept; load the page again.`,
      tone: 'bad',
      at: Date.now(),
    },
  }),
);
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
  samples: SAMPLES.flatMap(([name, title, about]) => {
    const file = sampleUrls[`../sample-plans/${name}.json`];
    return file === undefined ? [] : [{ file, title, about }];
  }),
  say: (text, tone) => session.set({ notice: { text, tone, at: Date.now() } }),
});
const none: SaveState = { state: 'none', text: 'Not kept yet' };
const program: Program = {
  store,
  session,
  derived,
  runner: createRunner({ store, session, derived, tools: TOOLS, later: LATER, now: () => Date.now() }),
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

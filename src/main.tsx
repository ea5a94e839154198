import { createRoot } from 'react-dom/client';
import { createStore } from './document/store.ts';
import { newDocument } from './engine/model/defaults.ts';
import { openVault } from './io/storage/vault.ts';
import { createAssets } from './app/assets.ts';
import { lateDrawings } from './app/drawings/late.ts';
import { createFiles } from './app/files.ts';
import { readLook, readMarks, readSession, sessionToKeep } from './app/keptSession.ts';
import { whenIdle } from './app/later.ts';
import { listenForLeaving } from './app/leaving.ts';
import { loadPrefs } from './app/prefs.ts';
import type { Program, SampleInfo } from './app/program.ts';
import { createQuestion } from './app/question.ts';
import { guarded, savingOf } from './app/saving.ts';
import { Shell } from './panels/shell/Shell.tsx';
import { followChanges } from './app/suggest/follow.ts';
import { withOverlay } from './app/suggest/overlay.ts';
import { createSuggestions } from './app/suggest/suggestions.ts';
import { tellFaults } from './app/tellFaults.ts';
import { watchUpdates } from './app/update.ts';
import { createRunner } from './tools/runner.ts';
import { createSession, createViewer, pruneSession, startSession } from './tools/session.ts';
import { LATER, TOOLS } from './tools/toolTable.ts';
import { followDerived } from './workers/deriveClient.ts';
import { latePort } from './workers/latePort.ts';
import { createSuggester } from './workers/suggestClient.ts';
import './panels/ui/theme.css';
import './panels/ui/base.css';
import './panels/ui/panel.css';
import './panels/ui/button.css';
import './panels/ui/lists.css';
import './panels/ui/checked.css';
import './panels/ui/fields.css';
import './panels/ui/dialog.css';
import './panels/ui/menu.css';
import './panels/shell/page.css';
import './panels/shell/title.css';
import './panels/shell/strips.css';
import './panels/findings/findings.css';
import './panels/shell/narrow.css';

const sampleUrls: Record<string, string> = import.meta.glob('../sample-plans/*.json', {
  query: '?url',
  import: 'default',
  eager: true,
});
const SAMPLES: readonly (readonly [string, string, string])[] = [
  ['pottery-studio', 'Pottery studio', 'One storey, sockets, lighting and a kiln, all in its zones'],
  ['pottery-studio-mistakes', 'Pottery studio with mistakes', 'A mistake for each rule; its notes list them'],
  [
    'pottery-studio-drawing-mistakes',
    'Pottery studio, drawing not to scale',
    'Pictures with wrong, single and no known lengths',
  ],
  ['two-storeys', 'Two storeys', 'A second storey and a sloping ceiling'],
];
const samples: readonly SampleInfo[] = SAMPLES.flatMap(([name, title, about]) => {
  const file = sampleUrls[`../sample-plans/${name}.json`];
  return file === undefined ? [] : [{ file, title, about }];
});

/** How long a session may change before it is kept, ms. */
const KEEP_AFTER = 400;

/** Opens what the last visit left, or the sample, and draws the page. */
async function start(root: HTMLElement): Promise<void> {
  loadPrefs();
  const vault = await openVault();
  const restored = vault.load();
  const doc = restored.doc ?? newDocument('Untitled plan');
  const kept = vault.session.get();

  const store = guarded(createStore(doc, restored.rev), () =>
    vault.status() === 'read-only' ? vault.reason() : null,
  );
  vault.follow(store);
  const session = createSession(restored.doc ? readSession(kept, doc, startSession(doc)) : startSession(doc));
  const say = (text: string, tone: 'plain' | 'good' | 'bad'): void =>
    session.set({ notice: { text, tone, at: Date.now() } });
  tellFaults(window, say);
  store.subscribe((state) => session.set(pruneSession(session.getState(), state.doc)));

  let drawn = (): void => undefined;
  const page = new Promise<void>((resolve) => (drawn = resolve));
  const derived = followDerived(store, () =>
    latePort(
      page,
      () => new Worker(new URL('./workers/derive.worker.ts', import.meta.url), { type: 'module' }),
    ),
  );
  const viewer = createViewer();
  const update = watchUpdates(
    import.meta.env.PROD && 'serviceWorker' in navigator ? navigator.serviceWorker : null,
    './sw.js',
    () => void vault.flush().finally(() => location.reload()),
  );
  const leaving = createQuestion();
  const assets = createAssets(vault.assets, (text) => say(text, 'bad'));
  const drawings = lateDrawings(async () => {
    const { createDrawings } = await import('./app/drawings/drawings.ts');
    return createDrawings({
      bytes: assets.bytes,
      problem: (text) => say(text, 'bad'),
      startPdf: () => new Worker(new URL('./workers/pdf.worker.ts', import.meta.url), { type: 'module' }),
      startDxf: () => new Worker(new URL('./workers/dxf.worker.ts', import.meta.url), { type: 'module' }),
    });
  });
  const files = createFiles({
    store,
    session,
    viewer,
    assets,
    drawings,
    leaving,
    samples,
    marks: readMarks(restored.doc ? kept : null),
    say,
  });
  const looker = () =>
    createSuggester(
      () => new Worker(new URL('./workers/suggest.worker.ts', import.meta.url), { type: 'module' }),
    );
  const suggestions = createSuggestions({ store, session, derived }, looker(), say);
  followChanges({ store, derived }, looker(), say);
  const runner = createRunner({
    store,
    session,
    derived,
    drawings,
    tools: TOOLS,
    later: LATER,
    now: () => Date.now(),
  });
  const program: Program = {
    store,
    session,
    derived,
    checking: derived,
    runner: withOverlay(runner, suggestions.overlay),
    suggestions,
    assets,
    drawings,
    viewer,
    files,
    leaving,
    isSample: files.isSample,
    today: () => localDate(new Date()),
    saving: savingOf(vault, store),
    update,
  };
  listenForLeaving(program.saving);
  vault.onNews(({ kind, text }) => {
    say(text, 'bad');
    if (kind === 'cleared') void assets.keepAgain();
  });

  let timer: ReturnType<typeof setTimeout> | undefined;
  const keepNow = (): void => {
    clearTimeout(timer);
    timer = undefined;
    vault.session.put(sessionToKeep(session.getState(), files.marks(), viewer.look()));
  };
  // Not put off by what comes after: someone who never rests comes back to where they were as well.
  const keep = (): void => void (timer ??= setTimeout(keepNow, KEEP_AFTER));
  // Heard before the vault, which writes what waits when the page goes.
  window.addEventListener('pagehide', keepNow, { capture: true });
  document.addEventListener('visibilitychange', keepNow, { capture: true });
  session.subscribe(keep);
  store.subscribe(keep);

  const told = [restored.note, restored.said].filter((each) => each !== null);
  if (told.length > 0) say(told.join(' '), 'bad');
  const [first] = samples;
  if (restored.doc === null && restored.newer === null && first) {
    const problem = await files.openSample(first);
    if (problem !== null) say(problem, 'bad');
  }
  createRoot(root).render(<Shell program={program} onDrawn={drawn} />);
  const look = restored.doc ? readLook(kept) : null;
  // The plan view shows the whole plan when it first has a size; then the person's own view of it comes back.
  if (look) requestAnimationFrame(() => requestAnimationFrame(() => viewer.show({ kind: 'look', ...look })));
  // The tools that were not needed at once are fetched while nothing else is going on.
  await whenIdle();
  for (const load of Object.values(LATER)) load().catch(() => undefined);
}

/** The date where the person is, as YYYY-MM-DD. */
function localDate(now: Date): string {
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

const root = document.getElementById('root');
if (!root) throw new Error('the page has no root');
void start(root);

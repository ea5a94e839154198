import { createRoot, type Root } from 'react-dom/client';
import { createStore } from './document/store.ts';
import { newDocument } from './engine/model/defaults.ts';
import { Plans } from './io/storage/plans.ts';
import { browserPorts } from './io/storage/ports.ts';
import { openVault, type Vault } from './io/storage/vault.ts';
import { keepPlans } from './app/keepPlans.ts';
import { createKeptPlans } from './app/keptPlans.ts';
import { startChoices } from './app/startList.ts';
import { markStart } from './app/startMark.ts';
import type { Chosen } from './panels/shell/StartList.tsx';
import { createAssets } from './app/assets.ts';
import { lateDrawings } from './app/drawings/late.ts';
import { createFiles } from './app/files.ts';
import { readLook, readMarks, readPlanId, readSession, sessionToKeep } from './app/keptSession.ts';
import { whenIdle } from './app/later.ts';
import { listenForLeaving } from './app/leaving.ts';
import { loadPrefs } from './app/prefs.ts';
import type { Program } from './app/program.ts';
import type { SampleInfo } from './app/types.ts';
import { createQuestion } from './app/question.ts';
import { guarded, savingOf } from './app/saving.ts';
import { Shell } from './panels/shell/Shell.tsx';
import { withStraightened } from './app/straightenedPictures.ts';
import { followChanges } from './app/suggest/follow.ts';
import { withOverlay } from './app/suggest/overlay.ts';
import { createSuggestions } from './app/suggest/suggestions.ts';
import { tellFaults } from './app/tellFaults.ts';
import { watchUpdates } from './app/update.ts';
import { createRunner } from './tools/runner.ts';
import { createSession, createViewer, pruneSession, startSession } from './tools/session.ts';
import { LATER, TOOLS } from './tools/toolTable.ts';
import { followDerived, type DeriveClient } from './workers/deriveClient.ts';
import { latePort } from './workers/latePort.ts';
import { createPictureWork } from './workers/pictureClient.ts';
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

/** A page that has lived so long can be worked on, ms; one that has drawn what was found, so long after. */
const LIVED = 20_000;
const SETTLED = 1000;

/** How long a session may change before it is kept, ms. */
const KEEP_AFTER = 400;

/** Opens what the last visit left, or the sample, and draws the page. */
async function start(root: HTMLElement): Promise<void> {
  loadPrefs();
  const mark = markStart(globalThis.localStorage ?? null);
  const ports = browserPorts();
  const plans = new Plans(ports.indexedDB, ports.patience);
  const vault = await openVault(ports, async () => (await plans.list()).flatMap((plan) => plan.assets));
  const restored = vault.load();
  const kept = vault.session.get();
  const page = createRoot(root);
  // Another tab that works shows that a start comes through; this one may be its twin.
  const chosen = mark.failed && vault.status() !== 'read-only' ? await choose(page, vault, plans) : undefined;
  const doc =
    chosen === undefined
      ? (restored.doc ?? newDocument('Untitled plan'))
      : (chosen?.doc ?? newDocument('Untitled plan'));
  const asLeft = doc === restored.doc;

  const store = guarded(createStore(doc, restored.rev), () =>
    vault.status() === 'read-only' ? vault.reason() : null,
  );
  vault.follow(store);
  const session = createSession(asLeft ? readSession(kept, doc, startSession(doc)) : startSession(doc));
  const say = (text: string, tone: 'plain' | 'good' | 'bad'): void =>
    session.set({ notice: { text, tone, at: Date.now() } });
  tellFaults(window, say);
  store.subscribe((state) => session.set(pruneSession(session.getState(), state.doc)));

  let drawn = (): void => undefined;
  const standing = new Promise<void>((resolve) => (drawn = resolve));
  const derived = followDerived(store, () =>
    latePort(
      standing,
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
  const pictures = createPictureWork(
    () => new Worker(new URL('./workers/picture.worker.ts', import.meta.url), { type: 'module' }),
  );
  const bad = (text: string): void => say(text, 'bad');
  const assets = withStraightened(createAssets(vault.assets, bad), pictures, bad);
  const drawings = lateDrawings(async () => {
    const { createDrawings } = await import('./app/drawings/drawings.ts');
    return createDrawings({
      bytes: assets.bytes,
      problem: bad,
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
    marks: readMarks(asLeft ? kept : null),
    say,
  });
  const open = keepPlans(
    store,
    plans,
    chosen === undefined ? (asLeft ? readPlanId(kept) : null) : (chosen?.plan ?? null),
    () => vault.status() !== 'read-only',
  );
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
    pictures,
    assets,
    drawings,
    viewer,
    files,
    leaving,
    isSample: files.isSample,
    today: () => localDate(new Date()),
    saving: savingOf(vault, store),
    update,
    keptPlans: createKeptPlans(plans, open, files),
  };
  document.title = `${store.getState().doc.job.title} – Zonewright`;
  store.subscribe(({ doc: now }) => void (document.title = `${now.job.title} – Zonewright`));
  listenForLeaving(program.saving);
  vault.onNews(({ kind, text }) => {
    say(text, 'bad');
    if (kind === 'cleared') void assets.keepAgain();
  });

  let timer: ReturnType<typeof setTimeout> | undefined;
  const keepNow = (): void => {
    clearTimeout(timer);
    timer = undefined;
    vault.session.put(sessionToKeep(session.getState(), files.marks(), viewer.look(), open.id()));
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
  if (restored.doc === null && restored.newer === null && chosen === undefined && first) {
    const problem = await files.openSample(first);
    if (problem !== null) say(problem, 'bad');
  }
  page.render(<Shell program={program} onDrawn={drawn} />);
  void standing.then(() => cameThrough(derived)).then(mark.through);
  const look = asLeft ? readLook(kept) : null;
  // The plan view shows the whole plan when it first has a size; then the person's own view of it comes back.
  if (look) requestAnimationFrame(() => requestAnimationFrame(() => viewer.show({ kind: 'look', ...look })));
  // The tools that were not needed at once are fetched while nothing else is going on.
  await whenIdle();
  runner.fetchLater();
}

/** The list of kept plans, before anything of a plan is drawn. */
async function choose(page: Root, vault: Vault, plans: Plans): Promise<Chosen> {
  const [{ StartList }, choices] = await Promise.all([
    import('./panels/shell/StartList.tsx'),
    startChoices(vault, plans),
  ]);
  return new Promise((resolve) => page.render(<StartList choices={choices} onChoose={resolve} />));
}

/** Resolves when the plan has been looked at once and drawn with what was found, or the page has lived long enough. */
function cameThrough(derived: DeriveClient): Promise<void> {
  return new Promise((resolve) => {
    const late = setTimeout(resolve, LIVED);
    const stop = derived.subscribe(() => {
      if (derived.get().rev < 0) return;
      stop();
      clearTimeout(late);
      setTimeout(resolve, SETTLED);
    });
  });
}

/** The date where the person is, as YYYY-MM-DD. */
function localDate(now: Date): string {
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

const root = document.getElementById('root');
if (!root) throw new Error('the page has no root');
void start(root);

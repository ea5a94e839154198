import type { Done, Refusal } from '../../document/types.ts';
import type { Id, PlanDocument, Table } from '../../engine/model/document.ts';
import { RECORDS } from '../../engine/model/records.ts';
import { TABLE_NAMES, tableOf } from '../../engine/model/tables.ts';
import type { WayCompared } from '../../engine/routing/compare.ts';
import type { Route, CircuitPlan, Replaces } from '../../engine/routing/types.ts';
import { summaryOf } from '../../engine/routing/wholePlan.ts';
import type { DrumChange } from '../../engine/takeoff/sensitivity.ts';
import type { App } from '../../tools/app.ts';
import type { Preview } from '../../tools/types.ts';
import type { Suggester, SuggestProgress } from '../../workers/suggestClient.ts';
import type { OverlaySource } from './overlay.ts';
import type * as Taking from './taking.ts';

/** What the suggester has been asked and what it found. Each answer names the plan it is about. */
export interface SuggestState {
  readonly busy: 'compare' | 'circuits' | 'run' | 'sensitivity' | null;
  readonly progress: SuggestProgress | null;
  readonly ways: {
    readonly doc: PlanDocument;
    readonly circuit: Id;
    readonly replaces: Replaces;
    readonly ways: readonly WayCompared[];
    /** The way that was taken, and the plan it made. */
    readonly taken: { readonly way: WayCompared['way']; readonly doc: PlanDocument } | null;
  } | null;
  readonly run: {
    readonly doc: PlanDocument;
    readonly from: Id;
    readonly to: Id;
    readonly circuit: Id | null;
    readonly route: Route;
  } | null;
  readonly whole: ReturnType<typeof summaryOf> | null;
  readonly sensitivity: { readonly doc: PlanDocument; readonly changes: readonly DrumChange[] } | null;
  readonly problem: string | null;
}

const NOTHING: SuggestState = {
  busy: null,
  progress: null,
  ways: null,
  run: null,
  whole: null,
  sensitivity: null,
  problem: null,
};

/** Suggestions as the panels use them: questions to the worker, what is shown of the answers, and taking them. */
export interface Suggestions {
  get(): SuggestState;
  subscribe(listener: () => void): () => void;
  /** What is drawn over the plan and the walls. */
  readonly overlay: OverlaySource;
  compare(circuit: Id, replaces: Replaces): void;
  /** One run between two points. */
  between(from: Id, to: Id, circuit: Id | null): void;
  /** Routes every circuit that has points without runs, and takes what it finds as one command. */
  layWhatIsLeft(): void;
  askSensitivity(): void;
  cancel(): void;
  /** Draws plans over the drawing as they would lie; null clears it. */
  show(plans: readonly CircuitPlan[] | null): void;
  /** Takes a way of the comparison shown. */
  take(way: WayCompared): Done | Refusal | null;
  takeBetween(): Done | Refusal | null;
}

type Asked = NonNullable<SuggestState['busy']>;

/** Makes the suggestions of a page. Nothing is asked and no worker started until someone asks. */
export function createSuggestions(
  app: Pick<App, 'store' | 'session' | 'derived'>,
  suggester: Suggester,
  say: (text: string, tone: 'plain' | 'bad' | 'good') => void,
): Suggestions {
  const { store, derived } = app;
  let state = NOTHING;
  let preview: Preview | null = null;
  const changed = hearers();
  const drawn = hearers();
  const set = (patch: Partial<SuggestState>): void => {
    state = { ...state, ...patch };
    changed.tell();
  };
  let wanted: readonly CircuitPlan[] | null = null;
  const show = (plans: readonly CircuitPlan[] | null): void => {
    wanted = plans;
    if (plans === null) {
      if (preview === null) return;
      preview = null;
      drawn.tell();
      return;
    }
    // Fetched when it is first needed: what draws a trial knows the whole of the checks.
    void import('./trialPreview.ts').then(({ trialPreview }) => {
      if (wanted !== plans) return;
      preview = trialPreview(store.getState().doc, derived.get().derived, plans);
      drawn.tell();
    });
  };

  /** What takes an answer into the plan: fetched with the first answer. */
  let taking: typeof Taking | null = null;

  /** Asks, and takes the answer in unless it was cancelled meanwhile. */
  function ask<T>(what: Asked, question: Promise<T | null>, answered: (answer: T) => void): void {
    set({ busy: what, progress: null, problem: null });
    const done = (work: () => void): void => {
      if (state.busy === what) set({ busy: null, progress: null });
      work();
    };
    Promise.all([question, import('./taking.ts')]).then(
      ([answer, module]) => {
        taking = module;
        if (answer !== null) done(() => answered(answer));
      },
      (error: unknown) =>
        done(() =>
          set({
            problem: `No way was looked for: ${error instanceof Error ? error.message : String(error)}.`,
          }),
        ),
    );
  }

  function takeWhole(asked: PlanDocument, plans: readonly CircuitPlan[]): void {
    if (!sameGround(asked, store.getState().doc)) {
      set({ problem: 'The plan changed while it was being routed, so nothing was taken: route again.' });
      return;
    }
    const whole = summaryOf(plans);
    if (whole.runs > 0 && taking !== null) {
      const outcome = store.dispatch(taking.takeWhole(plans));
      if (!outcome.ok) {
        set({ problem: outcome.reason });
        return;
      }
    }
    set({ whole });
    say(
      whole.runs === 0
        ? 'Nothing could be routed.'
        : `${whole.runs} runs routed, ${whole.metres.toFixed(2)} m.`,
      whole.blocked.length > 0 ? 'plain' : 'good',
    );
  }

  store.subscribe((_now, touched) => {
    // What was drawn over another plan is no longer true of this one.
    show(null);
    if (touched === 'all') {
      suggester.cancel();
      set(NOTHING);
    }
  });

  return {
    get: () => state,
    subscribe: changed.subscribe,
    overlay: { preview: () => preview, subscribe: drawn.subscribe },
    compare(circuit, replaces) {
      const { doc } = store.getState();
      show(null);
      set({ ways: null });
      ask('compare', suggester.ask<'compare'>(doc, { kind: 'compare', circuit, replaces }), (ways) =>
        set({ ways: { doc, circuit, replaces, ways, taken: null } }),
      );
    },
    between(from, to, circuit) {
      const { doc } = store.getState();
      set({ run: null });
      ask('run', suggester.ask<'run'>(doc, { kind: 'run', from, to, circuit }), (route) => {
        set({ run: { doc, from, to, circuit, route } });
        if (route.ok) show([planOf(doc, from, to, circuit, route)]);
      });
    },
    layWhatIsLeft() {
      const { doc } = store.getState();
      set({ whole: null });
      ask(
        'circuits',
        suggester.ask<'circuits'>(doc, { kind: 'circuits', circuits: null }, (progress) => set({ progress })),
        (plans) => takeWhole(doc, plans),
      );
    },
    askSensitivity() {
      const { doc } = store.getState();
      ask('sensitivity', suggester.ask<'sensitivity'>(doc, { kind: 'sensitivity' }), (changes) =>
        set({ sensitivity: { doc, changes } }),
      );
    },
    cancel() {
      suggester.cancel();
      set({ busy: null, progress: null });
    },
    show,
    take(way) {
      const { ways } = state;
      if (way.plan === null || ways === null || taking === null) return null;
      show(null);
      const outcome = store.dispatch(taking.takeWay(way.plan, way.way));
      if (!outcome.ok) say(outcome.reason, 'bad');
      else {
        const { doc } = store.getState();
        set({ ways: { ...ways, taken: { way: way.way, doc } } });
        const { length } = way.plan.runs;
        say(
          outcome.note ?? `Taken: ${length} ${length === 1 ? 'run' : 'runs'}. One undo takes it back.`,
          'good',
        );
      }
      return outcome;
    },
    takeBetween() {
      const { run } = state;
      if (run === null || !run.route.ok || taking === null) return null;
      show(null);
      const outcome = store.dispatch(taking.takeRun(run.from, run.to, run.circuit, run.route));
      if (!outcome.ok) say(outcome.reason, 'bad');
      else app.session.set({ selection: outcome.made.map((id) => ({ table: 'runs', id, part: null })) });
      set({ run: null });
      return outcome;
    },
  };
}

/** Those who want to hear of something. */
function hearers(): { tell(): void; subscribe(listener: () => void): () => void } {
  const listeners = new Set<() => void>();
  return {
    tell: () => {
      for (const listener of [...listeners]) listener();
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** A single run as a plan of its own, for drawing it. */
function planOf(
  doc: PlanDocument,
  from: Id,
  to: Id,
  circuit: Id | null,
  route: Extract<Route, { ok: true }>,
): CircuitPlan {
  const cable = doc.circuits.byId[circuit ?? '']?.cable ?? doc.cables.order[0] ?? '';
  return {
    circuit: circuit ?? '',
    runs: [{ from, to, cable, corners: route.corners, count: route.count, why: '' }],
    count: route.count,
    cost: route.cost,
    order: [],
    exactOrder: true,
    orderBound: 0,
    orderCost: 0,
    blocked: [],
    replaces: 'suggested',
  };
}

const GROUND = TABLE_NAMES.filter((name) => RECORDS[name].decides === 'ways');

/** Is all that decides where cables may lie, and what is joined, still the same? */
export function sameGround(a: PlanDocument, b: PlanDocument): boolean {
  return (
    GROUND.every((name) => sameTable<unknown>(tableOf(a, name), tableOf(b, name))) &&
    a.job.routeCosts === b.job.routeCosts &&
    a.job.edition === b.job.edition
  );
}

/** The very same records in the same order: undo puts them back so. */
function sameTable<T>(a: Table<T>, b: Table<T>): boolean {
  return (
    a === b ||
    (a.order.length === b.order.length &&
      a.order.every((id, i) => id === b.order[i] && a.byId[id] === b.byId[id]))
  );
}

import type { DocumentStore } from '../document/types.ts';
import { applyDelta, emptyView, type DerivedView } from '../engine/derive/delta.ts';
import { DONE, JUST_BEGUN, PATIENCE, START_AGAIN, type CheckProgress, type CheckState } from './checking.ts';
import type { FromDeriver, PlanPart, ToDeriver } from './messages.ts';

/** What is needed of a worker; the tests hand in one that answers at once. */
export interface Port {
  postMessage(message: ToDeriver): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<FromDeriver>) => void) | null;
  onerror: ((event: { readonly message: string }) => void) | null;
}

/** What was derived, and of which revision: older than the plan's while the worker is behind, -1 before any. */
export interface DerivedNow {
  readonly derived: DerivedView;
  readonly rev: number;
  /** The revision the sums over the whole plan belong to: they come last. */
  readonly summed: number;
}

export interface DeriveClient {
  get(): DerivedNow;
  /** Whether that is of the plan as it is; the same object while nothing has changed. */
  check(): CheckState;
  subscribe(listener: () => void): () => void;
  /** Starts the worker anew, where it had stopped. */
  again(): void;
  /** Ends the check under way; what was last found stays, and is known to be old. */
  without(): void;
}

/**
 * Follows a store: sends each change to the worker, and keeps the view of what it answers. The view may lag the
 * document, and says so; answers to a plan that has since been replaced are passed over. A worker that dies or gives no
 * sign is ended and started anew, once for each revision; then it stops until the plan changes.
 */
export function followDerived(store: DocumentStore, make: () => Port): DeriveClient {
  const follower = new Follower(store, make);
  // Handed about one by one, as React takes them.
  return {
    get: () => follower.get(),
    check: () => follower.check(),
    subscribe: (listener) => follower.subscribe(listener),
    again: () => follower.again(),
    without: () => follower.without(),
  };
}

class Follower implements DeriveClient {
  private port: Port | null = null;
  private held: DerivedNow = { derived: emptyView(), rev: -1, summed: -1 };
  private state: CheckState = JUST_BEGUN;
  /** The first revision of the plan that is open: what comes for an older one is of another plan. */
  private since = 0;
  /** The next whole answer replaces all that is held. */
  private fresh = true;
  private heard = false;
  private starts = 0;
  private part: PlanPart | null = null;
  private progress: CheckProgress | null = null;
  /** The revision at which the worker was last started anew. */
  private retriedAt = -1;
  private watches: ReturnType<typeof setTimeout>[] = [];
  private hangs: ReturnType<typeof setTimeout> | undefined;
  private readonly listeners = new Set<() => void>();

  constructor(
    private readonly store: DocumentStore,
    private readonly make: () => Port,
  ) {
    store.subscribe((state, touched, change) => {
      if (touched === 'all' || change === null) {
        this.forget();
        this.start(false, null);
      } else if (this.port !== null) {
        this.port.postMessage({ kind: 'change', rev: state.rev, change });
        if (this.state.state !== 'checking') this.begin(null);
      } else if (this.state.state === 'stopped' && this.state.why !== 'asked') {
        // It may be the very change that mends it; should it not, the part it stops at is told exactly.
        this.start(true, null);
      }
    });
    this.start(false, null);
  }

  get(): DerivedNow {
    return this.held;
  }

  check(): CheckState {
    return this.state;
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => void this.listeners.delete(listener);
  }

  again(): void {
    this.starts = 0;
    this.retriedAt = -1;
    this.start(false, null);
  }

  without(): void {
    this.stop('asked', 'Ended by you.');
  }

  private forget(): void {
    this.held = { derived: emptyView(), rev: -1, summed: -1 };
    this.starts = 0;
    this.retriedAt = -1;
  }

  /** A worker of its own for the plan as it is now. */
  private start(careful: boolean, again: PlanPart | 'anew' | null): void {
    this.drop();
    const { doc, rev } = this.store.getState();
    this.since = rev;
    this.fresh = true;
    this.heard = false;
    const port = this.make();
    this.port = port;
    port.onmessage = ({ data }) => this.hear(data);
    port.onerror = (event) => this.died(event.message);
    port.postMessage({ kind: 'open', rev, doc, careful });
    this.begin(again);
  }

  private drop(): void {
    this.unwatch();
    this.part = null;
    this.progress = null;
    if (this.port === null) return;
    this.port.onmessage = null;
    this.port.onerror = null;
    this.port.terminate();
    this.port = null;
  }

  private hear(data: FromDeriver): void {
    this.heard = true;
    this.starts = 0;
    if (data.rev < this.since) return;
    if (data.kind === 'failed') {
      this.part = data.part;
      this.fell('failed', data.message);
      return;
    }
    if (data.kind === 'at') {
      const { part, done, total } = data;
      this.part = part;
      this.progress = { part, done, total };
      this.watchHang();
      if (this.state.state === 'checking' && this.state.long !== 'no')
        this.set({ ...this.state, progress: this.progress });
      return;
    }
    const onto = this.fresh ? emptyView() : this.held.derived;
    this.fresh = false;
    const derived = applyDelta(onto, data.delta);
    this.held = { derived, rev: data.rev, summed: data.summed ? data.rev : this.held.summed };
    if (data.rev === this.store.getState().rev) {
      this.unwatch();
      this.state = DONE;
    } else this.watch();
    this.tell();
  }

  private begin(again: PlanPart | 'anew' | null): void {
    this.state = again === null ? JUST_BEGUN : { ...JUST_BEGUN, again };
    this.watch();
    this.tell();
  }

  private watch(): void {
    this.unwatch();
    const longer = (long: 'show' | 'offer') => () => {
      if (this.state.state === 'checking') this.set({ ...this.state, long, progress: this.progress });
    };
    this.watches = [setTimeout(longer('show'), PATIENCE.show), setTimeout(longer('offer'), PATIENCE.offer)];
    this.watchHang();
  }

  private watchHang(): void {
    clearTimeout(this.hangs);
    this.hangs = setTimeout(() => this.fell('hung', 'It came to no end.'), PATIENCE.hung);
  }

  private unwatch(): void {
    for (const timer of [...this.watches, this.hangs]) clearTimeout(timer);
    this.watches = [];
  }

  /** The worker itself gave up: it could not be fetched or made, or it broke off. */
  private died(message: string): void {
    if (this.heard) {
      this.fell('failed', message || 'The part of the program that checks broke off.');
      return;
    }
    const wait = START_AGAIN[this.starts++];
    if (wait === undefined)
      this.stop('not-started', 'The part of the program that checks could not be started.');
    else {
      this.drop();
      this.watches = [setTimeout(() => this.start(false, 'anew'), wait)];
    }
  }

  private fell(why: 'failed' | 'hung', message: string): void {
    const { rev } = this.store.getState();
    const { part } = this;
    if (this.retriedAt === rev) this.stop(why, message);
    else {
      this.retriedAt = rev;
      this.start(true, part ?? 'anew');
    }
  }

  private stop(why: 'failed' | 'hung' | 'not-started' | 'asked', message: string): void {
    const { part } = this;
    this.drop();
    this.set({ state: 'stopped', why, part, message });
  }

  private set(state: CheckState): void {
    this.state = state;
    this.tell();
  }

  private tell(): void {
    for (const listener of [...this.listeners]) listener();
  }
}

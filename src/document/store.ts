import type { Touched } from '../engine/derive/types.ts';
import type { PlanDocument } from '../engine/model/document.ts';
import { applyChange, changeBetween, isEmpty, touchedBy } from './change.ts';
import type { Cause, Change, DocumentState, DocumentStore } from './types.ts';

type Listener = Parameters<DocumentStore['subscribe']>[0];
interface News {
  readonly state: DocumentState;
  readonly touched: Touched | 'all';
  readonly change: Change | null;
  readonly cause: Cause;
}

/**
 * The open plan, its history and who listens. History holds before and after of each record by reference and is bounded
 * only by memory. A change made by a listener is told after the one it heard of, so that all hear the same order; a listener
 * that throws does not keep the others from hearing.
 */
export function createStore(doc: PlanDocument, rev = 0): DocumentStore {
  let state: DocumentState = { doc, rev, canUndo: null, canRedo: null };
  const done: Change[] = [];
  const undone: Change[] = [];
  const listeners = new Set<Listener>();
  const queue: News[] = [];
  let telling = false;

  function settle(next: PlanDocument, touched: Touched | 'all', change: Change | null, cause: Cause): void {
    state = {
      doc: next,
      rev: state.rev + 1,
      canUndo: done.at(-1)?.name ?? null,
      canRedo: undone.at(-1)?.name ?? null,
    };
    queue.push({ state, touched, change, cause });
    if (telling) return;
    telling = true;
    const broken: unknown[] = [];
    for (let news = queue.shift(); news !== undefined; news = queue.shift()) {
      for (const listener of [...listeners]) {
        try {
          listener(news.state, news.touched, news.change, news.cause);
        } catch (error) {
          broken.push(error);
        }
      }
    }
    telling = false;
    if (broken.length > 0) throw broken[0];
  }

  return {
    getState: () => state,
    dispatch(command) {
      const result = command.apply(state.doc);
      if (!result.ok || result.doc === state.doc) return result;
      const change = changeBetween(command.name, state.doc, result.doc);
      if (isEmpty(change)) return { ...result, doc: state.doc };
      done.push(change);
      undone.length = 0;
      settle(result.doc, touchedBy(change), change, 'dispatch');
      return result;
    },
    amend(command, rev) {
      const last = done.at(-1);
      if (last === undefined || state.rev !== rev || undone.length > 0)
        return { ok: false, reason: 'The plan has changed since.' };
      const result = command.apply(state.doc);
      if (!result.ok || result.doc === state.doc) return result;
      const step = changeBetween(command.name, state.doc, result.doc);
      if (isEmpty(step)) return { ...result, doc: state.doc };
      const before = applyChange(state.doc, last, 'before');
      done[done.length - 1] = changeBetween(last.name, before, result.doc);
      settle(result.doc, touchedBy(step), step, 'amend');
      return result;
    },
    undo() {
      const change = done.pop();
      if (change === undefined) return;
      undone.push(change);
      settle(applyChange(state.doc, change, 'before'), touchedBy(change), reversed(change), 'undo');
    },
    redo() {
      const change = undone.pop();
      if (change === undefined) return;
      done.push(change);
      settle(applyChange(state.doc, change, 'after'), touchedBy(change), change, 'redo');
    },
    replace(next) {
      done.length = 0;
      undone.length = 0;
      settle(next, 'all', null, 'replace');
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
  };
}

/** The change as an undo makes it, so that whoever keeps a journal can follow forwards. */
function reversed(change: Change): Change {
  return {
    name: change.name,
    job: change.job && { before: change.job.after, after: change.job.before },
    counters: change.counters && { before: change.counters.after, after: change.counters.before },
    tables: change.tables.map((t) => ({
      table: t.table,
      orderBefore: t.orderAfter,
      orderAfter: t.orderBefore,
      records: t.records.map((r) => ({ id: r.id, before: r.after, after: r.before })),
    })),
  };
}

import type { PlanDocument } from '../engine/model/document.ts';
import { partsBetween, unknownPlan } from './planParts.ts';
import type { Answers, FromSuggester, Question, ToSuggester } from './suggestMessages.ts';

/** How far a question has come. */
export interface SuggestProgress {
  readonly done: number;
  readonly total: number;
  readonly what: string;
}

/** What is needed of a worker; `makeWorker` makes a new one after each cancel. */
export interface SuggestPort {
  postMessage(message: ToSuggester): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<FromSuggester>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
}

export interface Suggester {
  /**
   * Asks one question about a plan; a question still under way is cancelled first. Resolves to null when it was
   * cancelled. Rejects with the worker's own words when it failed.
   */
  ask<K extends Question['kind']>(
    doc: PlanDocument,
    question: Extract<Question, { kind: K }>,
    onProgress?: (progress: SuggestProgress) => void,
  ): Promise<Answers[K] | null>;
  /** Ends the question under way at once, by ending its worker. */
  cancel(): void;
  busy(): boolean;
}

/** Lets the page breathe between two pieces of a plan. */
const breathe = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

/**
 * A page's line to the worker that looks for ways. The worker is started at the first question and keeps the plan, so
 * that the next question sends what has changed since; a large plan goes in pieces.
 */
export function createSuggester(makeWorker: () => SuggestPort): Suggester {
  let port: SuggestPort | null = null;
  let held = unknownPlan();
  let stop: (() => void) | null = null;

  const drop = (): void => {
    port?.terminate();
    port = null;
    held = unknownPlan();
  };
  const cancel = (): void => {
    if (stop === null) return;
    drop();
    stop();
  };
  /** True when all of it is with the worker; false when the worker went meanwhile. */
  async function send(worker: SuggestPort, doc: PlanDocument): Promise<boolean> {
    const parts = partsBetween(held, doc);
    for (const change of parts) {
      if (parts.length > 3) await breathe();
      if (port !== worker) return false;
      worker.postMessage({ kind: 'part', change });
    }
    held = doc;
    return true;
  }

  return {
    ask(doc, question, onProgress) {
      cancel();
      const worker = (port ??= makeWorker());
      return new Promise((resolve, reject) => {
        const end = (): void => {
          stop = null;
          worker.onmessage = null;
          worker.onerror = null;
        };
        const fail = (message: string): void => {
          drop();
          end();
          reject(new Error(message));
        };
        stop = () => {
          end();
          resolve(null);
        };
        worker.onmessage = ({ data }) => {
          if (data.kind === 'progress') onProgress?.(data);
          else if (data.kind === 'failed') fail(data.message);
          else {
            end();
            // The worker answers the question it was asked: its kind decides the type of the answer.
            resolve(data.answer as Answers[typeof question.kind]);
          }
        };
        worker.onerror = (event) => fail(event.message);
        send(worker, doc).then(
          (whole) => {
            if (whole) worker.postMessage(question);
          },
          (error: unknown) => fail(error instanceof Error ? error.message : String(error)),
        );
      });
    },
    cancel,
    busy: () => stop !== null,
  };
}

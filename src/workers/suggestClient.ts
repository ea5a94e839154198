import type { Answers, FromSuggester, ToSuggester } from './suggestMessages.ts';

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
   * Asks one question; a question still under way is cancelled first. Resolves to null when it was cancelled. Rejects
   * with the worker's own words when it failed.
   */
  ask<K extends ToSuggester['kind']>(
    question: Extract<ToSuggester, { kind: K }>,
    onProgress?: (progress: SuggestProgress) => void,
  ): Promise<Answers[K] | null>;
  /** Ends the question under way at once, by ending its worker. */
  cancel(): void;
  busy(): boolean;
}

/** A page's line to the worker that looks for ways. The worker is started at the first question. */
export function createSuggester(makeWorker: () => SuggestPort): Suggester {
  let port: SuggestPort | null = null;
  let stop: (() => void) | null = null;
  const cancel = (): void => {
    if (stop === null) return;
    port?.terminate();
    port = null;
    stop();
  };
  return {
    ask(question, onProgress) {
      cancel();
      const worker = (port ??= makeWorker());
      return new Promise((resolve, reject) => {
        const end = (): void => {
          stop = null;
          worker.onmessage = null;
          worker.onerror = null;
        };
        stop = () => {
          end();
          resolve(null);
        };
        worker.onmessage = ({ data }) => {
          if (data.kind === 'progress') onProgress?.(data);
          else if (data.kind === 'failed') {
            end();
            reject(new Error(data.message));
          } else {
            end();
            // The worker answers the question it was asked: its kind decides the type of the answer.
            resolve(data.answer as Answers[typeof question.kind]);
          }
        };
        worker.onerror = (event) => {
          port = null;
          end();
          reject(new Error(event.message));
        };
        worker.postMessage(question);
      });
    },
    cancel,
    busy: () => stop !== null,
  };
}

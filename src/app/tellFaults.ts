/** What a browser says when elements measured each other too often in one frame: nothing is wrong then. */
const HARMLESS = /^ResizeObserver loop/;

type Faults = Pick<EventTarget, 'addEventListener' | 'removeEventListener'>;

/**
 * Tells the person of what nothing else caught: a fault in a handler, or work that failed with nobody waiting for it.
 * The same words are told once, so that a fault in a handler of every pointer move is one message. Gives back a
 * function that stops listening.
 */
export function tellFaults(page: Faults, say: (text: string, tone: 'bad') => void): () => void {
  const told = new Set<string>();
  const tell = (thrown: unknown): void => {
    const why = thrown instanceof Error ? thrown.message : String(thrown);
    if (HARMLESS.test(why) || told.has(why)) return;
    told.add(why);
    say(
      `Something went wrong: ${why.replace(/\.$/, '')}. Your plan is kept. If the page no longer answers, save a copy and load it again.`,
      'bad',
    );
  };
  const onError = (event: Event): void => {
    const { error, message } = event as Partial<ErrorEvent>;
    // A picture or script that could not be fetched has neither; whoever asked for it says so.
    if (error !== undefined || message !== undefined) tell(error ?? message);
  };
  const onRejection = (event: Event): void => tell((event as PromiseRejectionEvent).reason);
  page.addEventListener('error', onError);
  page.addEventListener('unhandledrejection', onRejection);
  return () => {
    page.removeEventListener('error', onError);
    page.removeEventListener('unhandledrejection', onRejection);
  };
}

import { Component, lazy, useState, useSyncExternalStore, type ComponentType, type ReactNode } from 'react';
import { useProgram } from './hooks.ts';

/** Waits between attempts to fetch a part, ms. */
const WAITS = [300, 1500] as const;

/** A part of the page could not be fetched; the page itself is sound. */
class NotArrived extends Error {}

async function patiently<M>(fetch: () => Promise<M>): Promise<M> {
  for (const wait of WAITS) {
    try {
      return await fetch();
    } catch {
      await new Promise((resolve) => setTimeout(resolve, wait));
    }
  }
  return fetch().catch((error: unknown) => {
    throw new NotArrived(error instanceof Error ? error.message : String(error));
  });
}

/**
 * A component that is fetched when it is first drawn: `lazily(() => import('./Big.tsx'), (m) => m.Big)`. Where it does
 * not arrive it is asked for again, and then its own place says that it is missing.
 */
export function lazily<M, P extends object>(
  fetch: () => Promise<M>,
  component: (module: M) => ComponentType<P>,
): ComponentType<P> {
  const part = () => lazy(async () => ({ default: component(await patiently(fetch)) }));
  const first = part();
  return function Lazily(props: P) {
    const [{ Part }, setPart] = useState({ Part: first });
    return (
      <Missing onAgain={() => setPart({ Part: part() })}>
        <Part {...props} />
      </Missing>
    );
  };
}

interface MissingProps {
  readonly onAgain: () => void;
  readonly children: ReactNode;
}

class Missing extends Component<MissingProps, { readonly error: unknown }> {
  override state: { readonly error: unknown } = { error: null };

  static getDerivedStateFromError(error: unknown): { readonly error: unknown } {
    return { error };
  }

  override render(): ReactNode {
    const { error } = this.state;
    if (error === null) return this.props.children;
    // A fault of the part itself is for whoever holds this part of the page.
    if (!(error instanceof NotArrived)) throw error;
    const again = (): void => {
      this.props.onAgain();
      this.setState({ error: null });
    };
    return <MissingHere onAgain={again} />;
  }
}

function MissingHere(props: { readonly onAgain: () => void }): ReactNode {
  const { saving } = useProgram();
  const { state } = useSyncExternalStore(saving.subscribe, saving.get);
  return (
    <div className="halted" role="alert">
      <p>
        <b>This part of the program did not arrive.</b> The connection may be gone. Everything else goes on
        working.
      </p>
      <div className="row">
        <button className="button" type="button" onClick={props.onAgain}>
          Try again
        </button>
        <button
          className="button"
          type="button"
          disabled={state !== 'saved'}
          onClick={() => location.reload()}
        >
          {state === 'saved' ? 'Load the page again' : 'Load the page again (once the plan is saved)'}
        </button>
      </div>
    </div>
  );
}

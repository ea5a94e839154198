import { useState, useSyncExternalStore, type ReactNode } from 'react';
import { useProgram } from '../ui/hooks.ts';

/** A newer version waits: it is loaded on the person's word, and the old one goes on working until then. */
export function UpdateStrip(): ReactNode {
  const { update, saving } = useProgram();
  const ready = useSyncExternalStore(update.subscribe, update.ready);
  const { state } = useSyncExternalStore(saving.subscribe, saving.get);
  const [later, setLater] = useState(false);
  if (!ready || later) return null;
  return (
    <div className="offer" role="status">
      <p>A newer Zonewright is here. Yours goes on working until you load it.</p>
      <button className="button" type="button" disabled={state === 'not-saved'} onClick={() => update.load()}>
        Load it now
      </button>
      <button type="button" className="link" onClick={() => setLater(true)}>
        Later
      </button>
    </div>
  );
}

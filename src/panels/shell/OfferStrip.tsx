import { useSyncExternalStore, type ReactNode } from 'react';
import { say } from '../../app/program.ts';
import { useProgram, useStore } from '../ui/hooks.ts';
import { setPrefs } from '../../app/prefs.ts';
import { usePrefs } from '../ui/usePrefs.ts';

/** Says that what is open is invented, and offers a plan of one's own. */
export function OfferStrip(): ReactNode {
  const program = useProgram();
  const { offerSeen } = usePrefs();
  const rev = useStore((state) => state.rev);
  const sample = useSyncExternalStore(program.store.subscribe, program.isSample);
  if (offerSeen || !sample || rev < 0) return null;
  return (
    <div className="offer" role="region" aria-label="About this sample">
      <p>
        This is an invented sample<span className="wide-only">, to look round in and to try things on</span>.
      </p>
      <button
        type="button"
        className="button primary"
        onClick={() =>
          void program.files.newPlan().then((problem) => {
            if (problem !== null) say(program, problem, 'bad');
            else setPrefs({ offerSeen: true });
          })
        }
      >
        Start your own plan
      </button>
      <button
        type="button"
        className="button plain"
        aria-label="Put this away"
        onClick={() => setPrefs({ offerSeen: true })}
      >
        ✕
      </button>
    </div>
  );
}

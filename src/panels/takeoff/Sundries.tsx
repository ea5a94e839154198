import type { ReactNode } from 'react';
import { useDerived, useProgram } from '../ui/hooks.ts';
import { SourceLine } from '../ui/SourceLine.tsx';

/** Everything else to buy or drill, each count opening into its working. */
export function Sundries(): ReactNode {
  const program = useProgram();
  const { takeOff } = useDerived();
  if (takeOff.sundries.length === 0) return null;
  return (
    <details open>
      <summary>
        <h3>Also to buy or drill</h3>
        <span className="count">{takeOff.sundries.length}</span>
      </summary>
      <ul className="sundries">
        {takeOff.sundries.map((each) => (
          <li
            key={each.key}
            onPointerEnter={() =>
              program.session.set({
                lit: new Set([
                  ...each.runs.map((id) => `run:${id}`),
                  ...each.points.map((id) => `point:${id}`),
                ]),
              })
            }
            onPointerLeave={() => program.session.set({ lit: new Set() })}
          >
            <details>
              <summary>
                <span>{each.what}</span>
                <b className="num">{each.count}</b>
              </summary>
              <p>{each.working}</p>
              <SourceLine {...each.source} />
            </details>
          </li>
        ))}
      </ul>
    </details>
  );
}

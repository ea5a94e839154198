import { useMemo, type ReactNode } from 'react';
import { takeOffGaps } from '../../engine/site/gaps.ts';
import { openFindings, showFinding } from '../findings/findings.ts';
import { useDerived, useDoc, useProgram } from '../ui/hooks.ts';

/** How many findings of one kind are listed before the rest is left to the Findings panel. */
const LISTED = 6;

/** Says plainly that cable is still missing from the take-off, with the way to each gap. */
export function Gaps(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { findings } = useDerived();
  const gaps = useMemo(() => takeOffGaps(openFindings(findings, doc)), [findings, doc]);
  if (gaps.length === 0) return null;
  return (
    <div className="refused gaps" role="note">
      <h3>Not complete</h3>
      <p>More cable will be needed than is listed here.</p>
      <ul>
        {gaps.map((gap) => (
          <li key={gap.what}>
            <details open={gaps.length < 3}>
              <summary>
                <span>{gap.what}</span>
              </summary>
              <ul className="list">
                {gap.findings.slice(0, LISTED).map((finding) => (
                  <li key={finding.key}>
                    <button type="button" className="link" onClick={() => showFinding(program, finding)}>
                      {finding.message}
                    </button>
                  </li>
                ))}
                {gap.findings.length > LISTED && (
                  <li className="quiet">and {gap.findings.length - LISTED} more, in Findings</li>
                )}
              </ul>
            </details>
          </li>
        ))}
      </ul>
    </div>
  );
}

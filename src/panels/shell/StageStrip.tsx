import { useMemo, useEffect, useRef, type ReactNode } from 'react';
import type { Stage } from '../../engine/checks/types.ts';
import { openFindings } from '../findings/findings.ts';
import { useDerived, useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { STAGES } from '../../app/stageInfo.ts';

/** The seven stages along one strip, each with its count of what was found. */
export function StageStrip(): ReactNode {
  const program = useProgram();
  const stage = useSession((state) => state.stage);
  const derived = useDerived();
  const doc = useDoc();
  const counts = useMemo(() => {
    const made = new Map<Stage, { errors: number; others: number }>();
    for (const finding of openFindings(derived.findings, doc)) {
      const count = made.get(finding.stage) ?? { errors: 0, others: 0 };
      if (finding.severity === 'error') count.errors++;
      else count.others++;
      made.set(finding.stage, count);
    }
    return made;
  }, [derived.findings, doc]);
  const strip = useRef<HTMLElement>(null);
  useEffect(() => {
    const now = strip.current?.querySelector<HTMLElement>('[aria-current]');
    now?.scrollIntoView({ block: 'nearest', inline: 'center' });
  }, [stage]);

  return (
    <nav className="stages" aria-label="Stages of the job" ref={strip} data-region="stages">
      <ol>
        {STAGES.map((info, index) => {
          const count = counts.get(info.stage);
          const total = (count?.errors ?? 0) + (count?.others ?? 0);
          return (
            <li key={info.stage}>
              <button
                className="stage"
                type="button"
                aria-current={info.stage === stage ? 'step' : undefined}
                title={`${info.name} (${index + 1})`}
                onClick={() => goToStage(program, info.stage)}
              >
                <span className="no" aria-hidden="true">
                  {index + 1}
                </span>
                <span className="name">{info.name}</span>
                {total > 0 && (
                  <span className={`count ${count && count.errors > 0 ? 'bad' : ''}`}>
                    {total}
                    <span className="unseen"> found</span>
                  </span>
                )}
              </button>
            </li>
          );
        })}
      </ol>
    </nav>
  );
}

/** Goes to a stage with its everyday tool in hand. */
export function goToStage(program: ReturnType<typeof useProgram>, stage: Stage): void {
  if (program.session.getState().stage === stage) return;
  program.session.set({ stage, tool: 'select', lit: new Set() });
}

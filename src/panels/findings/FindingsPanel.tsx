import { Suspense, useMemo, useState, type ReactNode } from 'react';
import type { Finding } from '../../engine/checks/types.ts';
import type { Acceptance } from '../../engine/model/document.ts';
import { withdrawAcceptance } from '../../document/commands/acceptances.ts';
import { acceptances, byStage, litBy, SEVERITY, showFinding } from './findings.ts';
import { showLength } from '../ui/lengths.tsx';
import { useShown } from '../ui/useShown.tsx';
import { perform } from '../../app/program.ts';
import { useDerived, useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { usePrefs } from '../ui/usePrefs.ts';
import { SourceLine } from '../ui/SourceLine.tsx';
import { lazily } from '../ui/lazily.tsx';
import { Checked, CheckWord, useCheck } from '../ui/Checked.tsx';

const AcceptDialog = lazily(
  () => import('./AcceptDialog.tsx'),
  (m) => m.AcceptDialog,
);

/** Everything found, by stage: severity, where, how far, what would mend it and where the rule comes from. */
export function FindingsPanel(): ReactNode {
  const doc = useDoc();
  const { findings } = useDerived();
  const stage = useSession((state) => state.stage);
  const [all, setAll] = useState(true);
  const [accepting, setAccepting] = useState<Finding | null>(null);
  const accepted = useMemo(() => acceptances(doc), [doc]);
  const open = useMemo(() => findings.filter((each) => !accepted.has(each.key)), [findings, accepted]);
  const settled = useMemo(() => findings.filter((each) => accepted.has(each.key)), [findings, accepted]);
  const groups = useMemo(
    () => byStage(all ? open : open.filter((each) => each.stage === stage)),
    [open, all, stage],
  );
  // Silence is an answer only once the plan as it is has been looked at.
  const known = useProgram().checking.get().rev >= 0;
  const current = useCheck().state === 'done';
  const errors = open.filter((each) => each.severity === 'error').length;

  return (
    <section className="findings" aria-labelledby="findings-title">
      <div className="panel-head">
        <h2 id="findings-title">
          Findings{' '}
          <span className={`count ${known && errors > 0 ? 'bad' : ''} ${current ? '' : 'old'}`}>
            {known ? open.length : '…'}
          </span>
          <CheckWord />
        </h2>
        <label className="small check">
          <input type="checkbox" checked={!all} onChange={(event) => setAll(!event.target.checked)} /> this
          stage only
        </label>
      </div>
      <Checked>
        {groups.length === 0 && (
          <p className="quiet">
            {findings.length === 0 && doc.runs.order.length === 0
              ? 'Nothing to check yet. Findings appear as you draw.'
              : all || open.length === 0
                ? 'Nothing found by the checks this program knows. That is not a certificate.'
                : 'Nothing found in this stage.'}
          </p>
        )}
        {groups.map((group) => (
          <details key={group.stage} open>
            <summary>
              <h3>{group.name}</h3>
              <span className="count">{group.findings.length}</span>
            </summary>
            <FindingRows findings={group.findings} onAccept={setAccepting} />
          </details>
        ))}
        {settled.length > 0 && (
          <details className="settled">
            <summary>
              <h3>Accepted with a reason</h3>
              <span className="count">{settled.length}</span>
            </summary>
            <ul>
              {settled.map((finding) => (
                <FindingRow key={finding.key} finding={finding} acceptance={accepted.get(finding.key)} />
              ))}
            </ul>
          </details>
        )}
      </Checked>
      <Suspense fallback={null}>
        {accepting && <AcceptDialog finding={accepting} onClose={() => setAccepting(null)} />}
      </Suspense>
    </section>
  );
}

function FindingRows(props: {
  readonly findings: readonly Finding[];
  readonly onAccept: (finding: Finding) => void;
}): ReactNode {
  const { shown, more } = useShown(props.findings, 40);
  return (
    <>
      <ul>
        {shown.map((finding) => (
          <FindingRow key={finding.key} finding={finding} onAccept={() => props.onAccept(finding)} />
        ))}
      </ul>
      {more}
    </>
  );
}

function FindingRow(props: {
  readonly finding: Finding;
  readonly acceptance?: Acceptance | undefined;
  readonly onAccept?: () => void;
}): ReactNode {
  const program = useProgram();
  const { units } = usePrefs();
  const { finding, acceptance } = props;
  const severity = SEVERITY[finding.severity];
  const light = (on: boolean): void => program.session.set({ lit: on ? litBy(finding) : new Set() });
  return (
    <li className={`finding ${finding.severity}`}>
      <button
        type="button"
        className="finding-go"
        onClick={() => showFinding(program, finding)}
        onPointerEnter={() => light(true)}
        onPointerLeave={() => light(false)}
      >
        <span className="sign" aria-hidden="true">
          {severity.sign}
        </span>
        <span className="what">
          <b>{severity.word}</b>
          {finding.outsideMm !== null && finding.outsideMm > 0 && (
            <span className="far"> {showLength(finding.outsideMm, units)} out</span>
          )}
          <br />
          {finding.message}
        </span>
      </button>
      <details className="more">
        <summary>How to mend it, and why</summary>
        {finding.fix && <p>{finding.fix}</p>}
        <SourceLine text={finding.source} rank={finding.rank} />
        {acceptance ? (
          <p>
            Accepted {acceptance.date}
            {acceptance.by && ` by ${acceptance.by}`}: “{acceptance.reason}”{' '}
            <button
              type="button"
              className="link"
              onClick={() => perform(program, withdrawAcceptance(acceptance.finding))}
            >
              Take back
            </button>
          </p>
        ) : (
          <button type="button" className="link" onClick={props.onAccept}>
            Accept with a reason…
          </button>
        )}
      </details>
    </li>
  );
}

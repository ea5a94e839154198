import { Suspense, useEffect, useState, useSyncExternalStore, type ReactNode } from 'react';
import { FindingsPanel } from '../findings/FindingsPanel.tsx';
import { Inspector } from '../inspect/Inspector.tsx';
import { NoticeLine } from './Notice.tsx';
import { UpdateStrip } from './UpdateStrip.tsx';
import { OfferStrip } from './OfferStrip.tsx';
import { openFindings } from '../findings/findings.ts';
import type { Program } from '../../app/program.ts';
import { ProgramContext, useDerived, useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { Sheet } from './DrawingSheet.tsx';
import { followRoom } from '../../app/followRoom.ts';
import { listenForFiles, listenForKeys } from './listen.ts';
import { stageInfo } from '../../app/stageInfo.ts';
import { Boundary } from '../ui/Boundary.tsx';
import { StagePanel } from './StagePanel.tsx';
import { StageStrip } from './StageStrip.tsx';
import { TitleBar } from './TitleBar.tsx';
import { lazily } from '../ui/lazily.tsx';
import { useCheck } from '../ui/Checked.tsx';

const LeaveDialog = lazily(
  () => import('./LeaveDialog.tsx'),
  (m) => m.LeaveDialog,
);
const OfferDialog = lazily(
  () => import('../drawing/OfferDialog.tsx'),
  (m) => m.OfferDialog,
);
const HelpDialog = lazily(
  () => import('./HelpDialog.tsx'),
  (m) => m.HelpDialog,
);
const KeptPlansDialog = lazily(
  () => import('./KeptPlansDialog.tsx'),
  (m) => m.KeptPlansDialog,
);
const JobDialog = lazily(
  () => import('./JobDialog.tsx'),
  (m) => m.JobDialog,
);

/** Marked when the page can first be worked on: what it fetched until then is its first load. */
export const EDITABLE = 'zonewright-editable';

/** The whole page around the two canvases. */
export function Shell(props: {
  readonly program: Program;
  /** Once the page stands: what can wait for it may then be fetched. */
  readonly onDrawn: () => void;
}): ReactNode {
  const { onDrawn } = props;
  useEffect(() => {
    performance.mark(EDITABLE);
    onDrawn();
  }, [onDrawn]);
  return (
    <ProgramContext value={props.program}>
      <Boundary name="The page">
        <Page />
      </Boundary>
    </ProgramContext>
  );
}

function Page(): ReactNode {
  const program = useProgram();
  const [dialog, setDialog] = useState<'help' | 'job' | 'plans' | null>(null);
  const [dropping, setDropping] = useState(false);
  const stage = useSession((state) => state.stage);
  const panel = useSession((state) => state.panel);
  const selection = useSession((state) => state.selection);
  const narrow = useNarrow();
  const leaving = useSyncExternalStore(program.leaving.subscribe, program.leaving.open);
  const { drawings } = program;
  const offer = useSyncExternalStore(drawings.subscribe, () => drawings.now()?.offer() ?? null);

  useEffect(() => followRoom(program), [program]);
  useEffect(() => listenForKeys(program, () => setDialog('help')), [program]);
  useEffect(() => listenForFiles(program, setDropping), [program]);
  useEffect(() => {
    // On a small screen a list is what these stages are for, so it opens by itself.
    if (narrow) program.session.set({ panel: stage === 'take-off' || stage === 'site' ? 'tools' : null });
  }, [narrow, stage, program]);

  return (
    <div className="page" data-stage={stage} data-panel={narrow ? (panel ?? 'none') : 'all'}>
      <a className="skip" href="#findings-title">
        Skip to findings
      </a>
      <Boundary name="Title block">
        <TitleBar
          onHelp={() => setDialog('help')}
          onJob={() => setDialog('job')}
          onPlans={() => setDialog('plans')}
        />
      </Boundary>
      <Boundary name="Stages">
        <StageStrip />
      </Boundary>
      <OfferStrip />
      <UpdateStrip />
      <div className="desk">
        <aside className="tools panel" aria-label="Tools of the stage" data-region="tools" tabIndex={-1}>
          <PanelClose />
          <Boundary name={stageInfo(stage).name} again={stage}>
            <StagePanel />
          </Boundary>
        </aside>
        <Sheet />
        <aside className="side" aria-label="Selected and findings">
          <div className="inspector panel" data-region="inspector" tabIndex={-1}>
            <PanelClose />
            <Boundary name="Selected" again={selection}>
              <Inspector />
            </Boundary>
          </div>
          <div className="found panel" data-region="findings" tabIndex={-1}>
            <PanelClose />
            <Boundary name="Findings">
              <FindingsPanel />
            </Boundary>
          </div>
        </aside>
      </div>
      {narrow && <PanelTabs />}
      <NoticeLine />
      {dropping && (
        <div className="dropping" aria-hidden="true">
          <p>Let go to open it</p>
        </div>
      )}
      <Boundary name="Dialog" again={dialog}>
        <Suspense fallback={null}>
          {leaving && <LeaveDialog />}
          {offer && <OfferDialog key={offer.name} offer={offer} />}
          {dialog === 'help' && <HelpDialog onClose={() => setDialog(null)} />}
          {dialog === 'plans' && <KeptPlansDialog onClose={() => setDialog(null)} />}
          {dialog === 'job' && <JobDialog onClose={() => setDialog(null)} />}
        </Suspense>
      </Boundary>
    </div>
  );
}

/** On small screens the panels lie under the drawing, one at a time. */
function PanelTabs(): ReactNode {
  const program = useProgram();
  const panel = useSession((state) => state.panel);
  const selected = useSession((state) => state.selection.length);
  const doc = useDoc();
  const { findings } = useDerived();
  const open = openFindings(findings, doc);
  const checked = useCheck().state === 'done';
  const bad = open.some((each) => each.severity === 'error');
  const tabs = [
    { panel: 'tools', name: 'Tools', count: 0 },
    { panel: 'list', name: 'Selected', count: selected },
    { panel: 'findings', name: 'Findings', count: open.length },
  ] as const;
  return (
    <div className="tabs" role="group" aria-label="Panels">
      {tabs.map((tab) => (
        <button
          className="button tab"
          key={tab.panel}
          type="button"
          aria-expanded={panel === tab.panel}
          onClick={() => program.session.set({ panel: panel === tab.panel ? null : tab.panel })}
        >
          {tab.name}
          {tab.panel === 'findings' && !checked && <span className="count old">…</span>}
          {tab.count > 0 && (checked || tab.panel !== 'findings') && (
            <span className={`count ${tab.panel === 'findings' && bad ? 'bad' : ''}`}>{tab.count}</span>
          )}
        </button>
      ))}
    </div>
  );
}

function PanelClose(): ReactNode {
  const program = useProgram();
  return (
    <button
      type="button"
      className="button plain panel-close"
      aria-label="Close this panel"
      onClick={() => program.session.set({ panel: null })}
    >
      ✕
    </button>
  );
}

const NARROW = '(max-width: 1099px)';
function useNarrow(): boolean {
  return useSyncExternalStore(
    (listener) => {
      const query = matchMedia(NARROW);
      query.addEventListener('change', listener);
      return () => query.removeEventListener('change', listener);
    },
    () => matchMedia(NARROW).matches,
  );
}

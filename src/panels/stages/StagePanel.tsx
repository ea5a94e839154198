import { Suspense, lazy, type ReactNode } from 'react';
import { ToolPicker } from '../ToolPicker.tsx';
import { useSession } from '../program.ts';
import { stageInfo } from '../stageInfo.ts';

const DrawingPanel = lazy(() => import('./DrawingPanel.tsx').then((m) => ({ default: m.DrawingPanel })));
const FabricPanel = lazy(() => import('./FabricPanel.tsx').then((m) => ({ default: m.FabricPanel })));
const PointsPanel = lazy(() => import('./PointsPanel.tsx').then((m) => ({ default: m.PointsPanel })));
const CircuitsPanel = lazy(() => import('./CircuitsPanel.tsx').then((m) => ({ default: m.CircuitsPanel })));
const RunsPanel = lazy(() => import('./RunsPanel.tsx').then((m) => ({ default: m.RunsPanel })));
const TakeOffPanel = lazy(() => import('./TakeOffPanel.tsx').then((m) => ({ default: m.TakeOffPanel })));
const SitePanel = lazy(() => import('./SitePanel.tsx').then((m) => ({ default: m.SitePanel })));

/** The tools and fields of the stage at hand, and of no other. */
export function StagePanel(): ReactNode {
  const stage = useSession((state) => state.stage);
  const info = stageInfo(stage);
  return (
    <section aria-labelledby="stage-title">
      <div className="panel-head">
        <h2 id="stage-title">{info.name}</h2>
      </div>
      {stage !== 'take-off' && stage !== 'site' && <ToolPicker tools={info.tools} />}
      <Suspense fallback={null}>
        {stage === 'drawing' && <DrawingPanel />}
        {stage === 'fabric' && <FabricPanel />}
        {stage === 'points' && <PointsPanel />}
        {stage === 'circuits' && <CircuitsPanel />}
        {stage === 'runs' && <RunsPanel />}
        {stage === 'take-off' && <TakeOffPanel />}
        {stage === 'site' && <SitePanel />}
      </Suspense>
    </section>
  );
}

import { Suspense, lazy, type ReactNode } from 'react';
import { ToolPicker } from './ToolPicker.tsx';
import { useSession } from '../ui/hooks.ts';
import { stageInfo } from '../../app/stageInfo.ts';

const DrawingPanel = lazy(() =>
  import('../drawing/DrawingPanel.tsx').then((m) => ({ default: m.DrawingPanel })),
);
const FabricPanel = lazy(() => import('../fabric/FabricPanel.tsx').then((m) => ({ default: m.FabricPanel })));
const PointsPanel = lazy(() => import('../points/PointsPanel.tsx').then((m) => ({ default: m.PointsPanel })));
const CircuitsPanel = lazy(() =>
  import('../circuits/CircuitsPanel.tsx').then((m) => ({ default: m.CircuitsPanel })),
);
const RunsPanel = lazy(() => import('../runs/RunsPanel.tsx').then((m) => ({ default: m.RunsPanel })));
const TakeOffPanel = lazy(() =>
  import('../takeoff/TakeOffPanel.tsx').then((m) => ({ default: m.TakeOffPanel })),
);
const SitePanel = lazy(() => import('../site/SitePanel.tsx').then((m) => ({ default: m.SitePanel })));

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

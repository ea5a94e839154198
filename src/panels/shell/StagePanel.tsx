import { Suspense, type ReactNode } from 'react';
import { ToolPicker } from './ToolPicker.tsx';
import { useSession } from '../ui/hooks.ts';
import { stageInfo } from '../../app/stageInfo.ts';
import { lazily } from '../ui/lazily.tsx';

const DrawingPanel = lazily(
  () => import('../drawing/DrawingPanel.tsx'),
  (m) => m.DrawingPanel,
);
const FabricPanel = lazily(
  () => import('../fabric/FabricPanel.tsx'),
  (m) => m.FabricPanel,
);
const PointsPanel = lazily(
  () => import('../points/PointsPanel.tsx'),
  (m) => m.PointsPanel,
);
const CircuitsPanel = lazily(
  () => import('../circuits/CircuitsPanel.tsx'),
  (m) => m.CircuitsPanel,
);
const RunsPanel = lazily(
  () => import('../runs/RunsPanel.tsx'),
  (m) => m.RunsPanel,
);
const TakeOffPanel = lazily(
  () => import('../takeoff/TakeOffPanel.tsx'),
  (m) => m.TakeOffPanel,
);
const SitePanel = lazily(
  () => import('../site/SitePanel.tsx'),
  (m) => m.SitePanel,
);

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

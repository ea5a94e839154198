import { Suspense, type ReactNode } from 'react';
import { SheetButtons } from '../circuits/SheetButtons.tsx';
import { Caution, First } from '../ui/First.tsx';
import { useDoc } from '../ui/hooks.ts';
import { CutList } from './SiteCuts.tsx';
import { CoverList, MarkingOut } from './SiteWalls.tsx';
import { lazily } from '../ui/lazily.tsx';
import { Checked } from '../ui/Checked.tsx';
import './site.css';

const TestPanel = lazily(
  () => import('./TestPanel.tsx'),
  (m) => m.TestPanel,
);

/** On site: what to cut and tick off, what to mark on each wall, and whether a wall may be covered. */
export function SitePanel(): ReactNode {
  const doc = useDoc();
  return (
    <>
      {doc.runs.order.length === 0 && doc.points.order.length === 0 && <First />}
      <Caution>
        Work dead, and prove dead at the point of work. “No cable recorded” is not “no cable”. Below 50 mm the
        rule is a permitted zone and 30 mA protection, not either.
      </Caution>
      {doc.runs.order.length > 0 && <CutList />}
      <MarkingOut />
      {doc.circuits.order.length > 0 && <Tests />}
      <Checked>
        <CoverList />
      </Checked>
      <Caution>
        Hole and notch limits are for solid timber joists only; engineered members need the maker’s chart. Old
        coatings and boards may hold asbestos: stop and check first. Chasing masonry makes silica dust.
      </Caution>
      <p className="help">
        A plan is not a design or a certificate. Whether the work is notifiable, and who may certify it,
        differs by nation: settle it before starting. Checked against{' '}
        {doc.job.edition === 'bs7671-2018-a4' ? 'BS 7671:2018 + A4:2026' : 'BS 7671:2018 + A2:2022 + A3:2024'}
        .
      </p>
    </>
  );
}

function Tests(): ReactNode {
  return (
    <details open>
      <summary>
        <h3>Test before the boards go on</h3>
      </summary>
      <Suspense fallback={null}>
        <TestPanel />
      </Suspense>
      <SheetButtons />
    </details>
  );
}

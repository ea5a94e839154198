import { Suspense, useState, type ReactNode } from 'react';
import { lazily } from '../ui/lazily.tsx';

const ScheduleSheet = lazily(
  () => import('./ScheduleSheet.tsx'),
  (m) => m.ScheduleSheet,
);
const QuestionsSheet = lazily(
  () => import('./QuestionsSheet.tsx'),
  (m) => m.QuestionsSheet,
);

/** Opens the sheets about circuits, to be read, printed or taken as CSV. */
export function SheetButtons(): ReactNode {
  const [open, setOpen] = useState<'schedule' | 'questions' | null>(null);
  const close = (): void => setOpen(null);
  return (
    <div className="row" role="group" aria-label="Sheets">
      <button className="button" type="button" onClick={() => setOpen('schedule')}>
        Circuit schedule
      </button>
      <button className="button" type="button" onClick={() => setOpen('questions')}>
        Questions for your electrician
      </button>
      <Suspense fallback={null}>
        {open === 'schedule' && <ScheduleSheet onClose={close} />}
        {open === 'questions' && <QuestionsSheet onClose={close} />}
      </Suspense>
    </div>
  );
}

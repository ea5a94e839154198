import { Suspense, useState, type ReactNode } from 'react';
import { toCsv } from '../../io/csv.ts';
import { download, fileName } from '../../app/download.ts';
import { say } from '../../app/program.ts';
import { useDerived, useDoc, useProgram } from '../ui/hooks.ts';
import { takeOffRows, takeOffText } from './takeOffText.ts';
import { lazily } from '../ui/lazily.tsx';

const TakeOffSheet = lazily(
  () => import('./TakeOffSheet.tsx'),
  (m) => m.TakeOffSheet,
);

/** The take-off handed on: copied, as CSV, or on paper. */
export function HandOut(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const derived = useDerived();
  const [paper, setPaper] = useState(false);
  return (
    <>
      <button
        className="button"
        type="button"
        onClick={() => {
          void navigator.clipboard.writeText(takeOffText(doc, derived)).then(
            () => say(program, 'Take-off copied.', 'good'),
            () => say(program, 'The browser did not let the take-off be copied. Use CSV instead.', 'bad'),
          );
        }}
      >
        Copy
      </button>
      <button
        className="button"
        type="button"
        onClick={() =>
          download(fileName(doc.job.title, '-take-off.csv'), 'text/csv', toCsv(takeOffRows(doc, derived)))
        }
      >
        CSV
      </button>
      <button className="button" type="button" onClick={() => setPaper(true)}>
        Print…
      </button>
      <Suspense fallback={null}>{paper && <TakeOffSheet onClose={() => setPaper(false)} />}</Suspense>
    </>
  );
}

import { useEffect, useId, useRef, type ReactNode } from 'react';
import { createPortal } from 'react-dom';
import { EDITIONS } from '../../engine/zones/editions.ts';
import { toCsv, type CsvCell } from '../../io/csv.ts';
import { download, fileName } from '../../app/download.ts';
import { useProgram, useStore } from './hooks.ts';
import './PrintSheet.css';

/**
 * A sheet of paper over the page: A4, black on white whatever the screen's look, with what it is, of which plan, when
 * and against which edition. Printing shows it alone. The page behind it rests until it is closed.
 */
export function PrintSheet(props: {
  readonly title: string;
  readonly landscape?: boolean;
  /** Null while the sheet is not worked out yet. */
  readonly csv: { readonly ending: string; readonly rows: () => CsvCell[][] } | null;
  readonly onClose: () => void;
  readonly children: ReactNode;
}): ReactNode {
  const program = useProgram();
  const job = useStore((state) => state.doc.job);
  const rev = useStore((state) => state.rev);
  const sheet = useRef<HTMLDivElement>(null);
  const id = useId();
  const { onClose, csv } = props;
  useEffect(() => {
    const before = document.activeElement;
    const root = document.getElementById('root');
    root?.setAttribute('inert', '');
    sheet.current?.focus();
    return () => {
      root?.removeAttribute('inert');
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return createPortal(
    <div
      className="sheet-over"
      role="dialog"
      aria-modal="true"
      aria-labelledby={id}
      tabIndex={-1}
      ref={sheet}
      onKeyDown={(event) => {
        event.stopPropagation();
        if (event.key === 'Escape') onClose();
      }}
    >
      <div className="sheet-bar">
        <button type="button" className="button primary" onClick={() => window.print()}>
          Print
        </button>
        <button
          className="button"
          type="button"
          disabled={csv === null}
          onClick={() => {
            if (csv) download(fileName(job.title, csv.ending), 'text/csv', toCsv(csv.rows()));
          }}
        >
          CSV
        </button>
        <span className="push" />
        <button className="button" type="button" onClick={onClose}>
          Close
        </button>
      </div>
      <article className={props.landscape ? 'paper landscape' : 'paper'}>
        <header className="paper-head">
          <h2 id={id}>{props.title}</h2>
          <dl>
            <div>
              <dt>Plan</dt>
              <dd>{job.title}</dd>
            </div>
            <div>
              <dt>Date</dt>
              <dd>{program.today()}</dd>
            </div>
            <div>
              <dt>Revision</dt>
              <dd>{rev}</dd>
            </div>
            <div>
              <dt>Checked against</dt>
              <dd>{EDITIONS[job.edition].name}</dd>
            </div>
          </dl>
        </header>
        {props.children}
        <footer className="paper-foot">
          From the drawn lengths with their tails. A plan is not a design or a certificate: the designer
          decides, and whoever signs checks every figure. Whether the work is notifiable, and who may certify
          it, differs by nation. Nothing on this sheet is to scale.
        </footer>
      </article>
    </div>,
    document.body,
  );
}

import { useEffect, useState, type ReactNode } from 'react';
import type { PdfPage } from '../../io/pdf/types.ts';
import type { PdfClient } from '../../workers/pdfClient.ts';
import { NumberField } from '../ui/fields.tsx';
import { TileCanvas } from './TileCanvas.tsx';

/** So many previews at a time: a set of thousands of pages is not drawn to be chosen from. */
const SHOWN = 6;
const PREVIEW_PX = 120;

/** The pages of a PDF, a few previews at a time, one chosen. */
export function PageStrip(props: {
  readonly client: PdfClient;
  readonly pages: number;
  readonly page: number;
  readonly onPage: (page: number) => void;
}): ReactNode {
  const { pages, page } = props;
  const first = page - ((page - 1) % SHOWN);
  const shown = Array.from({ length: Math.min(SHOWN, pages - first + 1) }, (_, i) => first + i);
  return (
    <fieldset>
      <legend>Page, of {pages}</legend>
      <div className="page-strip">
        {shown.map((each) => (
          <label key={each} data-chosen={each === page || undefined}>
            <Preview client={props.client} page={each} />
            <span>
              <input
                type="radio"
                name="page-of-pdf"
                checked={each === page}
                onChange={() => props.onPage(each)}
              />{' '}
              Page {each}
            </span>
          </label>
        ))}
      </div>
      {pages > SHOWN && (
        <NumberField
          label="Go to page"
          value={page}
          min={1}
          max={pages}
          whole
          onCommit={(next: number) => props.onPage(next)}
        />
      )}
    </fieldset>
  );
}

function Preview({ client, page }: { readonly client: PdfClient; readonly page: number }): ReactNode {
  const [size, setSize] = useState<PdfPage | null>(null);
  useEffect(() => {
    client.page(page).then(setSize, () => undefined);
  }, [client, page]);
  if (!size) return <span className="page-blank" />;
  const scale = PREVIEW_PX / Math.max(size.width, size.height);
  return (
    <TileCanvas
      client={client}
      tile={{
        page,
        quarterTurns: 0,
        layers: null,
        x: 0,
        y: 0,
        width: size.width,
        height: size.height,
        scale,
      }}
    />
  );
}

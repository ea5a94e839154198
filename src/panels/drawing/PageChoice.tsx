import { useEffect, useState, type ReactNode } from 'react';
import { acceptPage } from '../../app/drawings/accept.ts';
import type { PageOffer } from '../../app/drawings/offer.ts';
import type { SourceBox } from '../../engine/model/tracing.ts';
import { sheetOf, statedScales, type StatedScale } from '../../engine/takeoff/sheetScale.ts';
import type { PdfOpened, PdfPage } from '../../io/pdf/types.ts';
import { SelectField } from '../ui/fields.tsx';
import { useProgram } from '../ui/hooks.ts';
import { CropFields, CropFrame } from './Crop.tsx';
import { LayerList } from './LayerList.tsx';
import { PageStrip } from './PageStrip.tsx';
import { TileCanvas } from './TileCanvas.tsx';

type Opened = Extract<PdfOpened, { readonly ok: true }>;
type Turns = 0 | 1 | 2 | 3;

interface Read extends PdfPage {
  readonly scales: readonly StatedScale[];
}

/** Pixels of the longer side of the page while it is being chosen. */
const SHOWN_PX = 1100;

/** Which page of a PDF, how turned, which part, which layers, and the scale to start from. */
export function PageChoice(props: {
  readonly offer: PageOffer;
  readonly opened: Opened;
  readonly onCancel: () => void;
}): ReactNode {
  const program = useProgram();
  const { offer, opened, onCancel } = props;
  const [page, setPage] = useState(1);
  const [turns, setTurns] = useState<Turns>(0);
  const [crop, setCrop] = useState<SourceBox | null>(null);
  const [layers, setLayers] = useState<readonly string[] | null>(null);
  const [ratio, setRatio] = useState<string>('none');
  const [read, problem] = useRead(offer, page);
  const scales = read?.scales;
  useEffect(() => setRatio(scales?.[0] ? String(scales[0].ratio) : 'none'), [scales]);
  const size = read && (turns % 2 === 0 ? read : { width: read.height, height: read.width });
  const view = { page, quarterTurns: turns, layers };
  return (
    <div className="choose">
      <div className="choose-view">
        {size && (
          <div className="choose-page">
            <TileCanvas
              client={offer.client}
              label={`Page ${page}`}
              tile={{
                ...view,
                x: 0,
                y: 0,
                width: size.width,
                height: size.height,
                scale: SHOWN_PX / Math.max(size.width, size.height),
              }}
            />
            <CropFrame size={size} crop={crop} onCrop={setCrop} />
          </div>
        )}
        {problem !== null && <p className="help bad">{problem}</p>}
      </div>
      <div className="choose-side fields">
        {opened.pages > 1 && (
          <PageStrip
            client={offer.client}
            pages={opened.pages}
            page={page}
            onPage={(next) => {
              setPage(next);
              setCrop(null);
            }}
          />
        )}
        <div className="row">
          <button
            type="button"
            className="button"
            onClick={() => {
              setTurns(((turns + 1) % 4) as Turns);
              setCrop(null);
            }}
          >
            Quarter turn
          </button>
        </div>
        {size && <CropFields size={size} crop={crop} onCrop={setCrop} />}
        {opened.layers.length > 0 && (
          <LayerList
            layers={opened.layers.map((each) => ({ name: each.name, shown: each.shown, note: '' }))}
            chosen={layers}
            onChoose={setLayers}
          />
        )}
        {read && <Says read={read} ratio={ratio} onRatio={setRatio} />}
      </div>
      <div className="dialog-foot choose-foot">
        <button type="button" className="button" onClick={onCancel}>
          Cancel
        </button>
        <button
          type="button"
          className="button primary"
          disabled={!size}
          onClick={() =>
            size &&
            void acceptPage(program, offer, {
              ...view,
              crop,
              width: size.width,
              height: size.height,
              ratio: ratio === 'none' ? null : Number(ratio),
            })
          }
        >
          Lay it under the plan
        </button>
      </div>
    </div>
  );
}

/** Size and texts of a page; null while they are being read, with the reason where they cannot be. */
function useRead(offer: PageOffer, page: number): readonly [Read | null, string | null] {
  const [read, setRead] = useState<Read | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  useEffect(() => {
    let wanted = true;
    setRead(null);
    setProblem(null);
    const found = async (): Promise<void> => {
      const size = await offer.client.page(page);
      if (wanted) setRead({ ...size, scales: [] });
      const scales = statedScales(await offer.client.texts(page));
      if (wanted) setRead({ ...size, scales });
    };
    found().catch((error: unknown) => {
      if (wanted) setProblem(error instanceof Error ? error.message : String(error));
    });
    return () => {
      wanted = false;
    };
  }, [offer.client, page]);
  return [read, problem];
}

/** What the page says of its sheet and scale, and the scale to start from. */
function Says(props: {
  readonly read: Read;
  readonly ratio: string;
  readonly onRatio: (ratio: string) => void;
}): ReactNode {
  const { read } = props;
  const sheet = sheetOf(read.width, read.height);
  const other = read.scales.find((s) => s.sheet !== null && sheet !== null && s.sheet !== sheet);
  return (
    <>
      <SelectField
        label="Scale to start from"
        value={props.ratio}
        options={[
          { value: 'none', text: 'None: I will mark a known length' },
          ...[...new Map(read.scales.map((s) => [String(s.ratio), s.text]))].map(([value, text]) => ({
            value,
            text: `${text}, as the page says`,
          })),
        ]}
        onCommit={props.onRatio}
        help="A first guess only: metres are given once a known length bears it out."
      />
      <p className="help">
        {sheet === null ? 'The page is of no usual sheet size.' : `The page is of ${sheet} size.`}
      </p>
      {other && (
        <p className="help warn">
          It says {other.text}, and the page is {sheet}: it may have been printed smaller or larger since.
        </p>
      )}
    </>
  );
}

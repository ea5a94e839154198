import { useEffect, useMemo, useRef, useState, type ReactNode } from 'react';
import { acceptLines, drawingPart } from '../../app/drawings/accept.ts';
import { drawnLines } from '../../app/drawings/drawnLines.ts';
import type { LinesOffer } from '../../app/drawings/offer.ts';
import { doorRadius, unitSenses } from '../../io/doorSwings.ts';
import type { StatedUnit } from '../../io/lineDrawing.ts';
import { grouped } from '../../tools/lengthText.ts';
import { useProgram } from '../ui/hooks.ts';
import { LayerList } from './LayerList.tsx';

const UNIT_NAMES = { mm: 'millimetres', cm: 'centimetres', m: 'metres', in: 'inches', ft: 'feet' } as const;

/** Pixels of the longer side of the drawing while it is being chosen. */
const SHOWN_PX = 900;

/** Which layers of a line drawing, and what its unit may be. */
export function LinesChoice(props: { readonly offer: LinesOffer; readonly onCancel: () => void }): ReactNode {
  const program = useProgram();
  const { offer, onCancel } = props;
  const { drawing } = offer;
  const [layers, setLayers] = useState<readonly string[]>(() =>
    drawing.layers.filter((l) => l.shown).map((l) => l.name),
  );
  const senses = useMemo(() => unitSenses(doorRadius(drawing)), [drawing]);
  const likely = senses.filter((s) => s.likely);
  const [unit, setUnit] = useState<StatedUnit>(
    () => (likely.find((s) => s.unit === drawing.unit) ?? likely[0])?.unit ?? null,
  );
  const doors = senses[0]?.door ?? null;
  return (
    <div className="choose">
      <div className="choose-view">
        <LinesPreview offer={offer} layers={layers} />
      </div>
      <div className="choose-side fields">
        <fieldset>
          <legend>One unit of the drawing is</legend>
          <p className="help">
            {drawing.unit === null
              ? 'The file says nothing of its unit.'
              : `The file says ${UNIT_NAMES[drawing.unit]}; such notes are often wrong.`}{' '}
            {doors === null
              ? 'No door swing was found to judge by.'
              : 'Judge by its doors: 600 to 1000 mm is usual.'}
          </p>
          <ul className="layers">
            {senses.map((sense) => (
              <li key={sense.unit}>
                <label>
                  <input
                    type="radio"
                    name="unit-of-drawing"
                    checked={unit === sense.unit}
                    onChange={() => setUnit(sense.unit)}
                  />{' '}
                  {UNIT_NAMES[sense.unit]}
                  {sense.door !== null && <small> the doors would be {doorText(sense.door)} wide</small>}
                </label>
              </li>
            ))}
            <li>
              <label>
                <input
                  type="radio"
                  name="unit-of-drawing"
                  checked={unit === null}
                  onChange={() => setUnit(null)}
                />{' '}
                not known
              </label>
            </li>
          </ul>
          <p className="help">Next you mark one known length: metres are given once it is there.</p>
        </fieldset>
        <LayerList
          layers={drawing.layers.map((each) => ({
            name: each.name,
            shown: each.shown,
            note: each.paths === 1 ? '1 line' : `${grouped(each.paths)} lines`,
          }))}
          chosen={layers}
          onChoose={setLayers}
        />
        {drawing.leftOut.length > 0 && (
          <fieldset>
            <legend>Left out</legend>
            <ul className="bullets">
              {drawing.leftOut.map((each) => (
                <li key={each.what}>
                  {each.what}: {grouped(each.count)}
                </li>
              ))}
            </ul>
          </fieldset>
        )}
      </div>
      <div className="dialog-foot choose-foot">
        <button type="button" className="button" onClick={onCancel}>
          Cancel
        </button>
        <button
          type="button"
          className="button primary"
          disabled={layers.length === 0}
          onClick={() => void acceptLines(program, offer, { unit, layers })}
        >
          Lay it under the plan
        </button>
      </div>
    </div>
  );
}

const doorText = (mm: number): string => (mm >= 10 ? `${grouped(Math.round(mm))} mm` : `${mm.toFixed(2)} mm`);

function LinesPreview(props: { readonly offer: LinesOffer; readonly layers: readonly string[] }): ReactNode {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { drawing } = props.offer;
  const part = useMemo(() => drawingPart(drawing), [drawing]);
  const size = useMemo(() => ({ width: part.x1 - part.x0, height: part.y1 - part.y0 }), [part]);
  const scale = SHOWN_PX / Math.max(size.width, size.height);
  const { layers } = props;
  useEffect(() => {
    const ctx = canvas.current?.getContext('2d');
    if (!ctx || !canvas.current) return;
    const { segments } = drawnLines(drawing, layers, { x: -part.x0, y: -part.y0 }, size);
    ctx.setTransform(1, 0, 0, 1, 0, 0);
    ctx.clearRect(0, 0, canvas.current.width, canvas.current.height);
    ctx.strokeStyle = getComputedStyle(canvas.current).color;
    ctx.beginPath();
    for (let i = 0; i < segments.length; i += 4) {
      const [ax, ay, bx, by] = segments.subarray(i, i + 4) as unknown as [number, number, number, number];
      ctx.moveTo(ax * scale, ay * scale);
      ctx.lineTo(bx * scale, by * scale);
    }
    ctx.stroke();
  }, [drawing, layers, part, scale, size]);
  return (
    <canvas
      ref={canvas}
      className="tile"
      role="img"
      aria-label="The drawing"
      width={Math.max(1, Math.round(size.width * scale))}
      height={Math.max(1, Math.round(size.height * scale))}
    />
  );
}

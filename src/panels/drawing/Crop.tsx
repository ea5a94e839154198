import { useRef, useState, type PointerEvent, type ReactNode } from 'react';
import type { SourceBox } from '../../engine/model/tracing.ts';
import { POINT_MM } from '../../engine/takeoff/sheetScale.ts';
import { NumberField } from '../ui/fields.tsx';

interface Size {
  readonly width: number;
  readonly height: number;
}
interface CropProps {
  /** Of the page as it is turned, points. */
  readonly size: Size;
  readonly crop: SourceBox | null;
  readonly onCrop: (crop: SourceBox | null) => void;
}

/** Smaller than this is a slip of the hand, not a part of a page. Points. */
const LEAST = 20;

/** A rectangle drawn over the page: from a press to its release. The figures beside it do the same by keyboard. */
export function CropFrame({ size, crop, onCrop }: CropProps): ReactNode {
  const from = useRef<{ readonly x: number; readonly y: number } | null>(null);
  const [drawn, setDrawn] = useState<SourceBox | null>(null);
  const spot = (event: PointerEvent<HTMLDivElement>): { readonly x: number; readonly y: number } => {
    const { left, top, width, height } = event.currentTarget.getBoundingClientRect();
    const part = (v: number, length: number): number => Math.min(1, Math.max(0, v / length));
    return {
      x: part(event.clientX - left, width) * size.width,
      y: part(event.clientY - top, height) * size.height,
    };
  };
  const box = (event: PointerEvent<HTMLDivElement>): SourceBox | null => {
    const a = from.current;
    if (!a) return null;
    const b = spot(event);
    return { x0: Math.min(a.x, b.x), y0: Math.min(a.y, b.y), x1: Math.max(a.x, b.x), y1: Math.max(a.y, b.y) };
  };
  const shown = drawn ?? crop;
  const share = (v: number, of: number): string => `${((100 * v) / of).toFixed(3)}%`;
  return (
    <div
      className="crop"
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        from.current = spot(event);
      }}
      onPointerMove={(event) => {
        if (from.current) setDrawn(box(event));
      }}
      onPointerUp={(event) => {
        const made = box(event);
        from.current = null;
        setDrawn(null);
        if (made && made.x1 - made.x0 >= LEAST && made.y1 - made.y0 >= LEAST) onCrop(made);
      }}
      onPointerCancel={() => {
        from.current = null;
        setDrawn(null);
      }}
    >
      {shown && (
        <svg viewBox={`0 0 ${size.width} ${size.height}`} preserveAspectRatio="none" aria-hidden="true">
          <path
            className="crop-off"
            fillRule="evenodd"
            d={`M0 0H${size.width}V${size.height}H0Z M${shown.x0} ${shown.y0}H${shown.x1}V${shown.y1}H${shown.x0}Z`}
          />
          <rect
            x={share(shown.x0, size.width)}
            y={share(shown.y0, size.height)}
            width={share(shown.x1 - shown.x0, size.width)}
            height={share(shown.y1 - shown.y0, size.height)}
          />
        </svg>
      )}
    </div>
  );
}

const inMm = (points: number): number => Math.round(points * POINT_MM);

/** The part of the page in figures, millimetres on the paper. */
export function CropFields({ size, crop, onCrop }: CropProps): ReactNode {
  const box = crop ?? { x0: 0, y0: 0, x1: size.width, y1: size.height };
  const set = (edit: Partial<SourceBox>): string | void => {
    const next = { ...box, ...edit };
    if (next.x1 - next.x0 < LEAST || next.y1 - next.y0 < LEAST) return 'Nothing would be left of the page.';
    onCrop(next);
  };
  const field = (label: string, key: keyof SourceBox, most: number): ReactNode => (
    <NumberField
      label={label}
      unit="mm"
      value={inMm(box[key])}
      min={0}
      max={inMm(most)}
      onCommit={(mm: number) => set({ [key]: Math.min(most, mm / POINT_MM) })}
    />
  );
  return (
    <fieldset>
      <legend>Part of the page</legend>
      <p className="help">Draw a rectangle on the page, or type it: millimetres of paper.</p>
      <div className="crop-fields">
        {field('Left edge', 'x0', size.width)}
        {field('Right edge', 'x1', size.width)}
        {field('Top edge', 'y0', size.height)}
        {field('Bottom edge', 'y1', size.height)}
      </div>
      {crop && (
        <button type="button" className="button" onClick={() => onCrop(null)}>
          Whole page
        </button>
      )}
    </fieldset>
  );
}

import { useEffect, useRef, useState, type KeyboardEvent, type PointerEvent, type ReactNode } from 'react';
import type { SourcePoint } from '../../engine/geometry/tracing.ts';
import type { Px } from '../../engine/model/units.ts';
import type { Picture } from '../../workers/pictureClient.ts';
import './corners.css';

const NAMES = ['Top left corner', 'Top right corner', 'Bottom right corner', 'Bottom left corner'] as const;
const STEPS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
/** The glass is so wide, and shows a pixel of the photograph so large, CSS px. */
const GLASS = 132;
const GLASS_ZOOM = 3;
/** The canvas is drawn no wider, px. */
const WIDEST = 1600;

/** A photograph with its four corners to drag, and a glass that shows what is under the one in hand. */
export function CornersOnPicture(props: {
  readonly photo: Picture | null;
  readonly picture: { readonly width: Px; readonly height: Px };
  readonly spots: readonly SourcePoint[];
  readonly onMove: (corner: number, to: SourcePoint, grain: Px) => void;
}): ReactNode {
  const { photo, picture, spots, onMove } = props;
  const [active, setActive] = useState(0);
  const [closer, setCloser] = useState(false);
  const area = useRef<HTMLDivElement>(null);
  const sheet = useRef<HTMLCanvasElement>(null);
  const grab = useRef<{ readonly dx: number; readonly dy: number } | null>(null);
  useEffect(() => {
    const canvas = sheet.current;
    if (!canvas || !photo) return;
    const by = Math.min(1, WIDEST / photo.width);
    canvas.width = Math.round(photo.width * by);
    canvas.height = Math.round(photo.height * by);
    canvas.getContext('2d')?.drawImage(photo, 0, 0, canvas.width, canvas.height);
  }, [photo]);

  const perPx = (): number => picture.width / (area.current?.getBoundingClientRect().width || 1);
  const pointed = (event: PointerEvent): SourcePoint => {
    const box = area.current?.getBoundingClientRect() ?? new DOMRect();
    const by = perPx();
    return { x: (event.clientX - box.left) * by, y: (event.clientY - box.top) * by };
  };
  const within = (p: SourcePoint): SourcePoint => ({
    x: Math.min(picture.width, Math.max(0, p.x)),
    y: Math.min(picture.height, Math.max(0, p.y)),
  });
  const press = (event: PointerEvent, i: number): void => {
    event.currentTarget.setPointerCapture(event.pointerId);
    const at = pointed(event);
    const spot = spots[i] as SourcePoint;
    grab.current = { dx: spot.x - at.x, dy: spot.y - at.y };
    setActive(i);
  };
  const drag = (event: PointerEvent, i: number): void => {
    if (!grab.current) return;
    const at = pointed(event);
    onMove(i, within({ x: at.x + grab.current.dx, y: at.y + grab.current.dy }), perPx());
  };
  const nudge = (event: KeyboardEvent, i: number): void => {
    const step = STEPS[event.key];
    if (!step) return;
    event.preventDefault();
    const by = event.shiftKey ? 10 : 1;
    const spot = spots[i] as SourcePoint;
    onMove(i, within({ x: spot.x + step[0] * by, y: spot.y + step[1] * by }), by);
  };
  const percent = (p: SourcePoint): { left: string; top: string } => ({
    left: `${(100 * p.x) / picture.width}%`,
    top: `${(100 * p.y) / picture.height}%`,
  });
  return (
    <div className="corners">
      <div className="corners-view">
        <div
          ref={area}
          className="corners-area"
          style={{
            // Whole: as wide as its height leaves it.
            width: closer ? '300%' : `min(100%, ${(54 * picture.width) / picture.height}vh)`,
            aspectRatio: `${picture.width} / ${picture.height}`,
          }}
        >
          <canvas ref={sheet} aria-hidden="true" />
          <svg viewBox={`0 0 ${picture.width} ${picture.height}`} aria-hidden="true">
            <polygon points={spots.map((s) => `${s.x},${s.y}`).join(' ')} />
          </svg>
          {spots.map((spot, i) => (
            <button
              key={NAMES[i]}
              type="button"
              className="photo-corner"
              aria-label={NAMES[i]}
              aria-description={`${Math.round(spot.x)} across, ${Math.round(spot.y)} down. Arrow keys move it.`}
              style={percent(spot)}
              onFocus={() => setActive(i)}
              onPointerDown={(event) => press(event, i)}
              onPointerMove={(event) => drag(event, i)}
              onPointerUp={() => (grab.current = null)}
              onPointerCancel={() => (grab.current = null)}
              onKeyDown={(event) => nudge(event, i)}
            />
          ))}
        </div>
      </div>
      <div className="corners-side">
        <Glass photo={photo} picture={picture} at={spots[active] as SourcePoint} name={NAMES[active] ?? ''} />
        <button type="button" className="button" aria-pressed={closer} onClick={() => setCloser(!closer)}>
          Closer
        </button>
      </div>
    </div>
  );
}

/** What lies under a corner, enlarged, with a cross at the very spot. */
function Glass(props: {
  readonly photo: Picture | null;
  readonly picture: { readonly width: Px };
  readonly at: SourcePoint;
  readonly name: string;
}): ReactNode {
  const { photo, picture, at, name } = props;
  const glass = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const context = glass.current?.getContext('2d');
    if (!context || !photo) return;
    const by = photo.width / picture.width;
    const half = GLASS / 2;
    const scale = GLASS_ZOOM / by;
    context.clearRect(0, 0, GLASS, GLASS);
    context.imageSmoothingEnabled = false;
    context.setTransform(scale, 0, 0, scale, half - at.x * by * scale, half - at.y * by * scale);
    context.drawImage(photo, 0, 0);
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.strokeStyle = '#d0021b';
    context.beginPath();
    context.moveTo(half, 0);
    context.lineTo(half, GLASS);
    context.moveTo(0, half);
    context.lineTo(GLASS, half);
    context.stroke();
  }, [photo, picture.width, at, name]);
  return (
    <canvas
      ref={glass}
      className="glass"
      width={GLASS}
      height={GLASS}
      role="img"
      aria-label={`${name}, enlarged`}
    />
  );
}

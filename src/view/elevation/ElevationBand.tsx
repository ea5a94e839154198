import { useEffect, useRef, useState, useSyncExternalStore } from 'react';
import { createBandSurface, type BandSurface } from './bandSurface.ts';
import type { App } from '../../tools/app.ts';
import './band.css';

/** All walls of the picked room unrolled side by side, linked both ways with the plan. */
export function ElevationBand({ app }: { readonly app: App }): React.ReactNode {
  const host = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLDivElement>(null);
  const status = useRef<HTMLOutputElement>(null);
  const band = useRef<BandSurface | null>(null);
  const [shown, setShown] = useState(false);
  useEffect(() => {
    if (!host.current || !canvas.current || !status.current) return;
    const surface = createBandSurface(app, host.current, canvas.current, status.current);
    band.current = surface;
    surface.onShown(setShown);
    return () => {
      band.current = null;
      surface.dispose();
    };
  }, [app]);
  const drawing = useSyncExternalStore(
    (listener) => app.runner.subscribe(listener),
    () => app.session.getState().tool === 'run' && app.runner.busy(),
  );
  return (
    <div className="zw-surface zw-band" ref={host}>
      <div className="zw-canvas" ref={canvas} />
      {!shown && (
        <p className="zw-band-invite">
          Click inside a room on the plan, or pick it from the list: its walls are unrolled here, side by
          side.
        </p>
      )}
      <div className="zw-band-foot">
        <output className="zw-band-status" ref={status} aria-live="off" />
        {shown && (
          <div className="zw-band-tools">
            {drawing && <RunKeys press={(key) => band.current?.key(key)} />}
            {!drawing && <ZoomKeys zoom={(by) => band.current?.zoom(by)} />}
            <button
              className="zw-band-button"
              type="button"
              aria-label="Fit the elevations to the band"
              onClick={() => band.current?.fit()}
            >
              Fit
            </button>
          </div>
        )}
      </div>
    </div>
  );
}

/** Given up while a run is drawn: its keys need the room, and the wheel and + and - still zoom. */
function ZoomKeys({ zoom }: { readonly zoom: (by: number) => void }): React.ReactNode {
  return (
    <>
      <button
        className="zw-band-button zw-band-zoom"
        type="button"
        aria-label="Zoom the elevations out"
        onClick={() => zoom(1 / 1.4)}
      >
        −
      </button>
      <button
        className="zw-band-button zw-band-zoom"
        type="button"
        aria-label="Zoom the elevations in"
        onClick={() => zoom(1.4)}
      >
        +
      </button>
    </>
  );
}

/** The run tool's keys as buttons, for touch and for people who do not know them yet. */
function RunKeys({ press }: { readonly press: (key: string) => void }): React.ReactNode {
  return (
    <>
      <button className="zw-band-button" type="button" title="Backspace" onClick={() => press('Backspace')}>
        One back
      </button>
      <button className="zw-band-button" type="button" title="F" onClick={() => press('f')}>
        Turn the other way
      </button>
      <button className="zw-band-button" type="button" title="T" onClick={() => press('t')}>
        Through the wall
      </button>
      <button className="zw-band-button" type="button" title="Enter" onClick={() => press('Enter')}>
        End here, on no point
      </button>
    </>
  );
}

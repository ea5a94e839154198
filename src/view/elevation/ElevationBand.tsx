import { useCallback, useRef, useState, useSyncExternalStore } from 'react';
import { createBandSurface, type BandSurface } from './bandSurface.ts';
import { CanvasSheet } from '../shared/CanvasSheet.tsx';
import type { CanvasStage } from '../shared/stage.ts';
import type { App } from '../../tools/app.ts';
import { PLACES } from '../../tools/types.ts';
import './band.css';

/** All walls of the picked room unrolled side by side, linked both ways with the plan. */
export function ElevationBand({ app }: { readonly app: App }): React.ReactNode {
  const host = useRef<HTMLDivElement>(null);
  const status = useRef<HTMLOutputElement>(null);
  const band = useRef<BandSurface | null>(null);
  const [shown, setShown] = useState(false);
  const work = useCallback(
    (stage: CanvasStage, canvas: HTMLDivElement) => {
      if (!host.current || !status.current) return () => undefined;
      const surface = createBandSurface(app, host.current, canvas, stage, status.current);
      band.current = surface;
      surface.onShown(setShown);
      return () => {
        band.current = null;
        surface.dispose();
      };
    },
    [app],
  );
  const keys = useSyncExternalStore(
    (listener) => app.runner.subscribe(listener),
    () => (app.runner.busy() ? app.runner.manner() : PLACES).keys,
  );
  return (
    <div className="zw-surface zw-band" ref={host}>
      <CanvasSheet onStage={work} />
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
            {keys.map(({ key, words }) => (
              <button
                className="zw-band-button"
                type="button"
                key={key}
                title={key.length === 1 ? key.toUpperCase() : key}
                onClick={() => band.current?.key(key)}
              >
                {words}
              </button>
            ))}
            {keys.length === 0 && <ZoomKeys zoom={(by) => band.current?.zoom(by)} />}
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

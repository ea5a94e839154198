import { Suspense, useRef, useState, type KeyboardEvent, type PointerEvent, type ReactNode } from 'react';
import { rows } from '../../engine/model/tables.ts';
import { PlanView } from '../../view/plan/PlanView.tsx';
import { useDerived, useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { setPrefs } from '../../app/prefs.ts';
import { usePrefs } from '../ui/usePrefs.ts';
import { whenIdle } from '../../app/later.ts';
import { Boundary } from '../ui/Boundary.tsx';
import { lazily } from '../ui/lazily.tsx';
import { roomName } from '../ui/names.ts';

// The plan can be worked on before the elevations are there.
const ElevationBand = lazily(
  () => whenIdle().then(() => import('../../view/elevation/ElevationBand.tsx')),
  (m) => m.ElevationBand,
);

const LEAST = 0.12;
const MOST = 0.8;
const clampShare = (share: number): number => Math.min(MOST, Math.max(LEAST, share));

/** The drawing sheet: plan above, elevations of the picked room below, a bar to share the height between them. */
export function Sheet(): ReactNode {
  const program = useProgram();
  const prefs = usePrefs();
  const sheet = useRef<HTMLDivElement>(null);
  const storey = useSession((state) => state.storey);
  const picked = useSession((state) => state.room !== null || state.face !== null);
  const rooms = (useDerived().fabrics.get(storey)?.rooms.size ?? 0) > 0 || picked;
  // Before there is a room the plan has the whole sheet, unless the person asks for the band.
  const [asked, setAsked] = useState(false);
  const open = prefs.bandOpen && (rooms || asked);
  const share = open ? prefs.band : 0;
  const unfold = (bandOpen: boolean): void => {
    setAsked(bandOpen);
    setPrefs({ bandOpen: bandOpen || !rooms });
  };

  const drag = (event: PointerEvent<HTMLDivElement>): void => {
    const box = sheet.current?.getBoundingClientRect();
    if (!box || !event.currentTarget.hasPointerCapture(event.pointerId)) return;
    setPrefs({ band: clampShare((box.bottom - event.clientY) / box.height), bandOpen: true });
    setAsked(true);
  };
  const keys = (event: KeyboardEvent): void => {
    const step = { ArrowUp: 0.04, ArrowDown: -0.04, PageUp: 0.15, PageDown: -0.15 }[event.key];
    if (step !== undefined) {
      setPrefs({ band: clampShare(prefs.band + step), bandOpen: true });
      setAsked(true);
    } else if (event.key === 'Enter' || event.key === ' ') unfold(!open);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };

  return (
    <main className="sheet" ref={sheet}>
      <section
        className="plan"
        aria-label="Plan"
        data-region="plan"
        tabIndex={-1}
        style={{ flexGrow: 100 * (1 - share), flexBasis: 0 }}
      >
        <Boundary name="Plan">
          <PlanView app={program} />
        </Boundary>
        <PlanCorner />
      </section>
      <div className="divide">
        <div
          className="grip"
          role="separator"
          tabIndex={0}
          aria-label="Height of the elevations"
          aria-orientation="horizontal"
          aria-valuemin={LEAST * 100}
          aria-valuemax={MOST * 100}
          aria-valuenow={Math.round(prefs.band * 100)}
          onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
          onPointerMove={drag}
          onDoubleClick={() => unfold(!open)}
          onKeyDown={keys}
        />
        <BandBar open={open} unfold={unfold} />
      </div>
      {open && (
        <section
          className="band"
          aria-label="Elevations"
          data-region="elevations"
          tabIndex={-1}
          style={{ flexGrow: 100 * share, flexBasis: 0 }}
        >
          <Boundary name="Elevations">
            <Suspense fallback={null}>
              <ElevationBand app={program} />
            </Suspense>
          </Boundary>
        </section>
      )}
    </main>
  );
}

/** Storey, zoom and snapping: the few switches that belong to the plan itself. */
function PlanCorner(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const storey = useSession((state) => state.storey);
  const snapping = useSession((state) => state.snapping);
  const zoom = (by: number): void => program.viewer.show({ kind: 'zoom', by, surface: 'plan' });
  return (
    <div className="corner">
      {doc.storeys.order.length > 1 && (
        <label>
          <span className="unseen">Storey</span>
          <select
            value={storey}
            onChange={(event) =>
              program.session.set({ storey: event.target.value, selection: [], room: null, face: null })
            }
          >
            {rows(doc.storeys).map((each) => (
              <option key={each.id} value={each.id}>
                {each.name}
              </option>
            ))}
          </select>
        </label>
      )}
      <button
        className="button"
        type="button"
        aria-pressed={snapping}
        title="Snap to ends, faces, heights and zones"
        onClick={() => program.session.set({ snapping: !snapping })}
      >
        Snap
      </button>
      <button
        className="button"
        type="button"
        aria-label="Zoom out (-)"
        title="Zoom out (-)"
        onClick={() => zoom(1 / 1.4)}
      >
        −
      </button>
      <button
        className="button"
        type="button"
        aria-label="Zoom in (+)"
        title="Zoom in (+)"
        onClick={() => zoom(1.4)}
      >
        +
      </button>
      <button
        className="button"
        type="button"
        title="Show everything (0)"
        onClick={() => program.viewer.show({ kind: 'all' })}
      >
        Fit
      </button>
    </div>
  );
}

/** Which room's walls lie unrolled below, and whether their zones are drawn. */
function BandBar(props: { readonly open: boolean; readonly unfold: (open: boolean) => void }): ReactNode {
  const program = useProgram();
  const derived = useDerived();
  const storey = useSession((state) => state.storey);
  const room = useSession((state) => state.room);
  const showZones = useSession((state) => state.showZones);
  const rooms = [...(derived.fabrics.get(storey)?.rooms.values() ?? [])];
  return (
    <div className="bandbar">
      <h2>Elevations</h2>
      {rooms.length > 0 && (
        <label>
          <span className="unseen">Room</span>
          <select
            value={room ?? ''}
            onChange={(event) => program.session.set({ room: event.target.value, face: null })}
          >
            {rooms.map((each, index) => (
              <option key={each.id} value={each.id}>
                {roomName(each, index)}
              </option>
            ))}
          </select>
        </label>
      )}
      <label className="check">
        <input
          type="checkbox"
          checked={showZones}
          onChange={(event) => program.session.set({ showZones: event.target.checked })}
        />{' '}
        Zones
      </label>
      <span className="push" />
      <button
        type="button"
        className="button plain"
        aria-expanded={props.open}
        aria-label={props.open ? 'Fold the elevations away' : 'Unfold the elevations'}
        onClick={() => props.unfold(!props.open)}
      >
        {props.open ? '▾' : '▴'}
      </button>
    </div>
  );
}

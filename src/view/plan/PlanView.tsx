import { useCallback, useRef } from 'react';
import type { ReactNode } from 'react';
import type { Change } from '../../document/types.ts';
import { tracingCorners } from '../../engine/geometry/tracing.ts';
import { liesOnStorey, type Tracing } from '../../engine/model/tracing.ts';
import type { App, ShowTarget } from '../../tools/app.ts';
import { boxAround, boxOf } from '../../tools/boxIndex.ts';
import { cameraAt, fit, pan, planToScreen, screenToPlan, zoomAbout } from '../../tools/camera.ts';
import type { Camera, MmBox } from '../../tools/camera.ts';
import { grouped } from '../../tools/lengthText.ts';
import { pickPlan, pickScene } from '../../tools/pick.ts';
import { planShapes } from '../../tools/planShapes.ts';
import type { PlanShapes } from '../../tools/planShapes.ts';
import { planWords } from '../../tools/planWords.ts';
import { labelSpace } from '../shared/labels.ts';
import { createMirror, refKey } from '../shared/mirror.ts';
import { CanvasSheet } from '../shared/CanvasSheet.tsx';
import type { CanvasStage } from '../shared/stage.ts';
import { connectSurface } from '../shared/surface.ts';
import { paintGrid, paintScaleBar } from './grid.ts';
import { paintChosen, paintCursor, paintPreview } from './overlay.ts';
import { paintPointLabels, paintPoints } from './points.ts';
import { paintProposed } from './proposed.ts';
import { paintRoomNames, paintRoomWash, paintThingNames, paintThings } from './rooms.ts';
import { paintRunLabels, paintRuns } from './runs.ts';
import { paintTracings, tracingOpacity } from './tracing.ts';
import { paintWalls } from './walls.ts';

/** What an empty plan shows: about a small building's width. */
const EMPTY_VIEW: MmBox = { minX: -1000, minY: -1000, maxX: 11_000, maxY: 7000 };
/** Kept free round what is brought into view, and the least width shown. */
const EDGE_PX = 36;
const CLOSEST = 4000;
/** How near a finger must come, px; a mouse is finer and goes by the runner's own tolerance. */
const FINGER_PX = 20;

/** The plan of the session's storey: canvas, mirror for screen readers, pointer and keyboard. */
export function PlanView(props: { readonly app: App }): ReactNode {
  const host = useRef<HTMLDivElement>(null);
  const { app } = props;
  const work = useCallback(
    (stage: CanvasStage) => (host.current ? mountPlan(app, host.current, stage) : () => undefined),
    [app],
  );
  return (
    <div className="zw-surface" ref={host}>
      <CanvasSheet onStage={work} />
    </div>
  );
}

/** False while a picture lies there that no known length has been marked on, and nothing is drawn by figures either. */
function scaleKnown(shapes: PlanShapes): boolean {
  const { tracings } = shapes;
  return (
    tracings.length === 0 ||
    shapes.walls.length > 0 ||
    tracings.some(({ scale }) => scale.known.length > 0 || scale.stated !== null)
  );
}

function mountPlan(app: App, host: HTMLDivElement, stage: CanvasStage): () => void {
  const { store, session, derived, runner, assets, drawings, viewer } = app;
  const mirror = createMirror(stage, 'Plan: records of this storey', 'zw-plan');
  const doc = () => store.getState().doc;
  const shapes = (): PlanShapes => planShapes(doc(), derived.get().derived, session.getState().storey);
  const surface = connectSurface({
    app,
    host,
    stage,
    mirror,
    toSpot: (at) => ({ surface: 'plan', at: screenToPlan(stage.camera(), at) }),
    claim(at, touch) {
      if (!touch || runner.manner().pointer === 'place') return 'tool';
      const spot = screenToPlan(stage.camera(), at);
      const { scale } = stage.camera();
      return pickPlan(pickScene(shapes()), spot, { scale, tolerance: FINGER_PX }) ? 'tool' : 'pan';
    },
    describe(at) {
      const { x, y } = screenToPlan(stage.camera(), at);
      return `${grouped(x)} across, ${grouped(y)} down`;
    },
  });

  stage.setPainter('under', (frame) => paintTracings(frame, shapes().tracings, app));
  stage.setPainter('document', (frame) => {
    const now = shapes();
    paintGrid(frame);
    paintRoomWash(frame, now, session.getState());
    paintThings(frame, now);
    paintWalls(frame, now);
  });
  stage.setPainter('derived', (frame) => {
    const now = shapes();
    const space = labelSpace();
    paintRuns(frame, doc(), now);
    paintPoints(frame, doc(), now, session.getState(), space);
    paintRoomNames(frame, now, space);
    paintPointLabels(frame, now, space);
    paintRunLabels(frame, doc(), now, space);
    paintThingNames(frame, now, space);
  });
  stage.setPainter('overlay', (frame) => {
    paintProposed(frame, session.getState());
    paintChosen(frame, doc(), shapes(), session.getState());
    paintPreview(frame, app);
    paintCursor(frame, surface.cursor());
    paintScaleBar(frame, scaleKnown(shapes()));
  });

  const bounds = (): MmBox => {
    const now = shapes();
    const pictures = now.tracings.map((u) => (u.visible ? boxOf(tracingCorners(u)) : null));
    const drawn = boxAround([
      boxOf(now.walls.flatMap((w) => w.quad)),
      boxOf(now.points.map((p) => p.at)),
      boxOf(now.things.flatMap((t) => t.outline)),
      boxOf(now.nodes.map((n) => n.at)),
    ]);
    return boxAround([drawn, ...pictures]) ?? EMPTY_VIEW;
  };
  let fitted = false;
  let seen = stage.size();
  let home: Camera | null = null;
  const fitAll = () => {
    const size = stage.size();
    seen = size;
    fitted = size.width > 0 && size.height > 0;
    if (!fitted) return;
    home = fit(bounds(), size, 36);
    stage.setCamera(home);
  };
  // A sheet that changes size shows the whole plan if it did before; else the middle stays in the middle.
  const resized = () => {
    const size = stage.size();
    if (!fitted || stage.camera() === home) return fitAll();
    const [dx, dy] = [(size.width - seen.width) / 2, (size.height - seen.height) / 2];
    seen = size;
    stage.setCamera(pan(stage.camera(), dx, dy));
  };
  const show = (target: ShowTarget) => {
    const size = stage.size();
    if (target.kind === 'all') fitAll();
    else if (target.kind === 'look') {
      fitted = true;
      seen = size;
      const { scale } = cameraAt(target.scale);
      stage.setCamera({
        scale,
        left: size.width / 2 - target.x * scale,
        top: size.height / 2 - target.y * scale,
      });
    } else if (target.kind === 'box') {
      bringIn(target.box);
    } else if (target.kind === 'zoom' && target.surface === 'plan') {
      stage.setCamera(zoomAbout(stage.camera(), { px: size.width / 2, py: size.height / 2 }, target.by));
    } else if (target.kind === 'plan') {
      const half = Math.max(500, target.span / 2);
      const { x, y } = target;
      stage.setCamera(fit({ minX: x - half, maxX: x + half, minY: y - half, maxY: y + half }, size));
    }
  };

  /** Shows a box whole with room round it; the camera is left alone where it already does, large enough to see. */
  const bringIn = (box: MmBox) => {
    const size = stage.size();
    const camera = stage.camera();
    const a = planToScreen(camera, { x: box.minX, y: box.minY });
    const b = planToScreen(camera, { x: box.maxX, y: box.maxY });
    const whole =
      a.px >= EDGE_PX && a.py >= EDGE_PX && b.px <= size.width - EDGE_PX && b.py <= size.height - EDGE_PX;
    const large = Math.max((b.px - a.px) / size.width, (b.py - a.py) / size.height) >= 0.25;
    if (fitted && whole && large) return;
    // Never nearer than a few metres across: a short run is shown with the wall it is on.
    const grow = Math.max(0, CLOSEST / 2 - Math.max(box.maxX - box.minX, box.maxY - box.minY) / 2);
    const around = {
      minX: box.minX - grow,
      maxX: box.maxX + grow,
      minY: box.minY - grow,
      maxY: box.maxY + grow,
    };
    stage.setCamera(fit(around, size, EDGE_PX + 20));
    fitted = true;
    seen = size;
  };

  /** A picture that is laid down first, or straightened, is shown whole; one whose scale changes keeps its size on the screen. */
  const followPictures = (change: Change | null) => {
    for (const { table, records } of change?.tables ?? []) {
      if (table !== 'tracings') continue;
      for (const record of records) {
        // Undo hands on the same change: what stands in the plan now tells which way it went.
        const after = doc().tracings.byId[record.id];
        const before = (record.before === after ? record.after : record.before) as Tracing | undefined;
        if (!after || !liesOnStorey(after) || after.lies.storey !== session.getState().storey) continue;
        const other = before?.source.width !== after.source.width;
        if (other && doc().walls.order.length === 0) fitAll();
        else if (before && !other && before.scale.mmPerUnit !== after.scale.mmPerUnit) {
          const corner = planToScreen(stage.camera(), after.lies);
          stage.setCamera(zoomAbout(stage.camera(), corner, before.scale.mmPerUnit / after.scale.mmPerUnit));
        }
      }
    }
  };

  let timer = 0;
  const say = () => {
    clearTimeout(timer);
    timer = window.setTimeout(() => mirror.update(planWords(doc(), derived.get().derived, shapes())), 30);
  };
  const changed = () => {
    stage.fade('under', tracingOpacity(shapes().tracings));
    stage.redraw();
    say();
  };
  let before = session.getState();
  const leaving = [
    stage.onView(() => {
      const size = stage.size();
      if (!fitted || size.width !== seen.width || size.height !== seen.height) resized();
      const middle = screenToPlan(stage.camera(), { px: size.width / 2, py: size.height / 2 });
      viewer.moved({ ...middle, scale: stage.camera().scale });
    }),
    store.subscribe((_state, touched, change) => {
      if (touched === 'all') fitAll();
      else followPictures(change);
      changed();
    }),
    derived.subscribe(changed),
    session.subscribe((now) => {
      if (now.storey !== before.storey) changed();
      else if (now.room !== before.room || now.stage !== before.stage) stage.redraw();
      else stage.redraw('overlay');
      if (now.hover !== before.hover && now.hover === null) mirror.activate(null);
      if (now.selection !== before.selection && now.selection.length === 1) {
        const only = now.selection[0];
        if (only) mirror.activate(refKey({ ...only, part: null }));
      }
      before = now;
    }),
    runner.subscribe(() => stage.redraw('overlay')),
    assets.subscribe(() => stage.redraw('under')),
    drawings.subscribe(() => stage.redraw('under')),
    viewer.subscribe(show),
  ];
  fitAll();
  changed();
  return () => {
    clearTimeout(timer);
    for (const leave of leaving) leave();
    surface.dispose();
  };
}

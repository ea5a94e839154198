import { bandMirrorItems } from './bandMirror.ts';
import { footOf, headOf, paintAngles, paintCaption, paintCursor, underline } from './bandPaint.ts';
import { faceHeading } from './captions.ts';
import { drawFace, figuresOn, type FaceDrawing } from './drawings.ts';
import { facesToShow } from './faces.ts';
import { faceById } from '../../tools/onFaces.ts';
import { bandSpot, faceStart, layoutBand, type BandFace, type BandLayout } from './layout.ts';
import type { FaceMark } from './marks.ts';
import { paintFace } from './paintFace.ts';
import { paintWords } from './paintWords.ts';
import type { WordBox } from './placeWords.ts';
import { paintMarks } from '../shared/marks.ts';
import { createMirror } from '../shared/mirror.ts';
import type { CanvasStage, Frame } from '../shared/stage.ts';
import { connectSurface } from '../shared/surface.ts';
import { faceToScreen, pan, screenToFace, zoomAbout, type Camera } from '../../tools/camera.ts';
import type { App } from '../../tools/app.ts';
import type { Ref, Spot } from '../../tools/types.ts';
import { faceAt } from '../../engine/fabric/lookup.ts';
import type { Fabric } from '../../engine/fabric/types.ts';
import type { FacePoint, PlanPoint, Px, ScreenPoint } from '../../engine/model/units.ts';

const SIDE: Px = 10;
/** Walls shown side by side keep at least this share of the height the band has for them. */
const LEAST_SHARE = 0.3;

/** The band as it works on the page, without React. */
export interface BandSurface {
  fit(): void;
  zoom(by: number): void;
  /** Hands the tool a key, for buttons that stand for it. */
  key(key: string): void;
  /** Called when there is something to show or no longer. */
  onShown(listener: (shown: boolean) => void): void;
  dispose(): void;
}

interface Scene {
  readonly fabric: Fabric;
  readonly layout: BandLayout;
  readonly drawings: readonly FaceDrawing[];
  readonly key: string;
}

/** Builds the band in a host element: canvas, camera, mirror and pointer; follows document, derivation and session. */
export function createBandSurface(
  app: App,
  host: HTMLElement,
  canvas: HTMLDivElement,
  stage: CanvasStage,
  status: HTMLElement,
): BandSurface {
  const mirror = createMirror(stage, 'Elevations of the picked room', 'band');
  let scene: Scene | null = null;
  let tell: (shown: boolean) => void = () => undefined;
  let fitted = '';
  /** Words of the walls themselves, which the figures of what is selected keep clear of. */
  let standing: readonly WordBox[] = [];

  const toSpot = (at: ScreenPoint): Spot | null => {
    if (scene === null) return null;
    const place = screenToFace(stage.camera(), at);
    const spot = bandSpot(scene.layout, place.u, place.z);
    return spot && { surface: 'face', face: spot.face, at: spot.at };
  };
  const describe = (at: ScreenPoint): string => {
    const spot = toSpot(at);
    const found = spot?.surface === 'face' ? faceById(app.derived.get().derived, spot.face) : null;
    if (!spot || spot.surface !== 'face' || !found) return '';
    return `${faceHeading(found.fabric, found.face)}: ${Math.round(spot.at.u)} from the left, ${Math.round(spot.at.z)} up`;
  };
  const surface = connectSurface({
    app,
    surface: 'face',
    host,
    stage,
    mirror,
    toSpot,
    describe,
    // On a phone one finger scrolls the walls sideways unless a tool that places things is in hand.
    claim: (_at, touch) =>
      scene === null || (touch && app.runner.manner().pointer === 'pick') ? 'pan' : 'tool',
  });

  /** The walls as high as the band holds; or with `whole` all of them side by side, if they can then still be read. */
  const fitCamera = (layout: BandLayout, whole: boolean): Camera => {
    const { height } = stage.size();
    const high = (height - headOf(height) - footOf(height)) / Math.max(1, layout.height);
    const wide = (stage.size().width - 2 * SIDE) / Math.max(1, layout.width);
    const scale = Math.max(0.01, whole && wide >= high * LEAST_SHARE ? Math.min(high, wide) : high);
    const width = layout.width * scale;
    const spare = (high - scale) * layout.height;
    return {
      scale,
      left: Math.max(SIDE, (stage.size().width - width) / 2),
      top: height - footOf(height) - spare / 2,
    };
  };
  const refit = (whole = false): void => {
    if (scene === null || stage.size().height < 10) return;
    fitted = `${scene.key}|${stage.size().height}`;
    stage.setCamera(fitCamera(scene.layout, whole));
  };
  /** All the walls; asked again, their full height. */
  const fitAll = (): void => {
    if (scene === null) return;
    const all = fitCamera(scene.layout, true);
    refit(
      Math.abs(stage.camera().scale - all.scale) > 1e-9 || Math.abs(stage.camera().left - all.left) > 0.5,
    );
  };

  const rebuild = (): void => {
    const { derived } = app.derived.get();
    const { doc } = app.store.getState();
    const session = app.session.getState();
    const shown = facesToShow(derived, session.room, session.face);
    const had = scene !== null;
    if (shown === null || shown.faces.length === 0) {
      scene = null;
      mirror.update([]);
    } else {
      const layout = layoutBand(shown.faces);
      const drawings = layout.faces.map(({ face }) =>
        drawFace(doc, derived, shown.fabric, face, session.showZones),
      );
      const key = shown.faces.map((f) => f.id).join(' ');
      const before = scene?.key;
      scene = { fabric: shown.fabric, layout, drawings, key };
      mirror.update(bandMirrorItems(doc, scene.fabric, layout, drawings));
      if (before !== key) refit();
    }
    if (had !== (scene !== null)) tell(scene !== null);
    stage.redraw();
  };

  const eachFace = (frame: Frame, paint: (face: BandFace, drawing: FaceDrawing) => void): void => {
    scene?.layout.faces.forEach((face, i) => {
      const left = face.start - 400;
      const right = face.start + face.face.length + 400;
      const drawing = scene?.drawings[i];
      if (drawing && right >= frame.view.minX && left <= frame.view.maxX) paint(face, drawing);
    });
  };
  stage.setPainter('under', (frame) => {
    eachFace(frame, (face, drawing) => paintFace(frame, drawing.ground, face.start));
    if (scene) paintAngles(frame, scene.layout);
  });
  stage.setPainter('document', (frame) =>
    eachFace(frame, (face, drawing) => paintFace(frame, drawing.middle, face.start)),
  );
  stage.setPainter('derived', (frame) => {
    eachFace(frame, (face, drawing) => paintFace(frame, drawing.front, face.start));
    const words: { marks: readonly FaceMark[]; start: number }[] = [];
    eachFace(frame, ({ start }, drawing) => {
      for (const marks of [drawing.front, drawing.middle, drawing.ground]) words.push({ marks, start });
    });
    standing = paintWords(frame, words);
    const { doc } = app.store.getState();
    eachFace(frame, (face) => scene && paintCaption(doc, frame, scene.fabric, scene.layout, face));
  });
  stage.setPainter('overlay', (frame) => {
    const { selection, hover, lit, face: picked } = app.session.getState();
    const refs: Ref[] = hover ? [...selection, hover] : [...selection];
    const preview = app.runner.preview();
    const figured: { marks: readonly FaceMark[]; start: number }[] = [];
    eachFace(frame, (face, drawing) => {
      const figures = figuresOn(drawing, face.face, refs, lit);
      paintFace(frame, figures, face.start);
      figured.push({ marks: figures, start: face.start });
      if (picked === face.face.id) underline(frame, face);
      const marks = preview?.faces.get(face.face.id);
      const place = (at: PlanPoint | FacePoint): ScreenPoint =>
        faceToScreen(frame.camera, 'u' in at ? at : { u: at.x, z: -at.y }, face.start);
      if (marks) paintMarks(frame, marks, place);
    });
    paintWords(frame, figured, standing);
    const cursor = surface.cursor();
    if (cursor) paintCursor(frame, cursor);
  });

  let shownWith = app.session.getState();
  const unsession = app.session.subscribe((next) => {
    const before = shownWith;
    shownWith = next;
    const rebuilds =
      next.room !== before.room ||
      next.showZones !== before.showZones ||
      (next.room === null && next.face !== before.face);
    if (rebuilds) rebuild();
    else stage.redraw('overlay');
    if (next.selection !== before.selection) follow(next.selection);
  });
  /** Scrolls to what was selected elsewhere; a point on a wall of another room brings that room. */
  const follow = (selection: readonly Ref[]): void => {
    const ref = selection[0];
    if (!ref || selection.length !== 1) return;
    const spans = scene ? spansOf(scene, ref) : [];
    const camera = stage.camera();
    const seen = ([a, b]: readonly [number, number]): boolean =>
      b * camera.scale + camera.left > 24 && a * camera.scale + camera.left < stage.size().width - 24;
    if (spans[0] && !spans.some(seen)) bringIn(...spans[0]);
    const place = ref.table === 'points' ? app.store.getState().doc.points.byId[ref.id]?.place : undefined;
    if (spans.length > 0 || place?.on !== 'face') return;
    for (const fabric of app.derived.get().derived.fabrics.values()) {
      const on = faceAt(fabric, place.wall, place.side, place.along);
      if (on) app.session.set({ room: on.face.room, face: on.face.id });
    }
  };
  const bringIn = (from: number, to: number): void => {
    const camera = stage.camera();
    const { width } = stage.size();
    const left = from * camera.scale + camera.left;
    const right = to * camera.scale + camera.left;
    if (left >= 24 && right <= width - 24) return;
    const dx = right - left > width - 48 || left < 24 ? 24 - left : width - 24 - right;
    stage.setCamera(pan(camera, dx, 0));
  };
  /** A spot someone asked for is shown with what is about it, not at the very edge. */
  const bringToMiddle = (u: number): void => {
    const camera = stage.camera();
    const { width } = stage.size();
    const at = u * camera.scale + camera.left;
    if (at < width * 0.25 || at > width * 0.75) stage.setCamera(pan(camera, width / 2 - at, 0));
  };
  const zoom = (by: number): void => {
    const { width, height } = stage.size();
    stage.setCamera(zoomAbout(stage.camera(), { px: width / 2, py: height / 2 }, by));
  };
  const unview = app.viewer.subscribe((target) => {
    if (target.kind === 'zoom' && target.surface === 'face') zoom(target.by);
    if (target.kind !== 'face') return;
    const found = faceById(app.derived.get().derived, target.face);
    if (!found) return;
    app.session.set({ face: target.face, room: found.face.room });
    const start = scene && faceStart(scene.layout, target.face);
    if (start === null || start === undefined) return;
    if (target.u === null) bringIn(start, start + found.face.length);
    else bringToMiddle(start + target.u);
  });
  const underived = app.derived.subscribe(rebuild);
  const unstore = app.store.subscribe(() => rebuild());
  const unrun = app.runner.subscribe(() => stage.redraw('overlay'));
  let lastHeight = stage.size().height;
  const unsize = stage.onView(() => {
    const { height } = stage.size();
    if (height === lastHeight) return;
    lastHeight = height;
    if (scene && fitted !== `${scene.key}|${height}`) refit();
  });

  const onMove = (event: PointerEvent): void => {
    const box = canvas.getBoundingClientRect();
    const spot = toSpot({ px: event.clientX - box.left, py: event.clientY - box.top });
    status.textContent = spot?.surface === 'face' ? zonesAt(app, spot, describeShort(spot.at)) : '';
  };
  const onLeave = (): void => void (status.textContent = '');
  /** Clicking a wall picks it, whatever the tool does with the click. */
  const onDown = (event: PointerEvent): void => {
    const box = canvas.getBoundingClientRect();
    const spot = toSpot({ px: event.clientX - box.left, py: event.clientY - box.top });
    if (spot?.surface === 'face') app.session.set({ face: spot.face });
  };
  canvas.addEventListener('pointermove', onMove);
  canvas.addEventListener('pointerleave', onLeave);
  canvas.addEventListener('pointerdown', onDown);
  rebuild();

  return {
    fit: fitAll,
    zoom,
    key: (key) => app.runner.event({ type: 'key', key, shift: false, ctrl: false }, stage.camera().scale),
    onShown(listener) {
      tell = listener;
      listener(scene !== null);
    },
    dispose() {
      for (const off of [unsession, unview, underived, unstore, unrun, unsize]) off();
      canvas.removeEventListener('pointermove', onMove);
      canvas.removeEventListener('pointerleave', onLeave);
      canvas.removeEventListener('pointerdown', onDown);
      surface.dispose();
    },
  };
}

const describeShort = (at: FacePoint): string => `${Math.round(at.u)} from left, ${Math.round(at.z)} up`;

/** Where the pointer is and the zones it is in, in words. */
function zonesAt(app: App, spot: Extract<Spot, { surface: 'face' }>, words: string): string {
  const zones = app.derived.get().derived.zones.get(spot.face) ?? [];
  const within = zones.filter(
    (z) => spot.at.u >= z.u0 && spot.at.u <= z.u1 && spot.at.z >= z.z0 && spot.at.z <= z.z1,
  );
  const reasons = [...new Set(within.map((z) => z.why))];
  return reasons.length === 0 ? `${words}: in no zone` : `${words}: ${reasons.join(' ')}`;
}

/** Where a record lies along the band, from and to in mm, once for each wall it is on. */
function spansOf(scene: Scene, ref: Ref): (readonly [number, number])[] {
  return scene.layout.faces.flatMap(({ face, start }, i): (readonly [number, number])[] => {
    const drawing = scene.drawings[i];
    const on = drawing?.points.find((p) => !p.ghost && ref.table === 'points' && p.point.id === ref.id);
    if (on) return [[start + on.at.u, start + on.at.u]];
    const run = drawing?.runs.find((r) => ref.table === 'runs' && r.run === ref.id);
    const us = (run?.legs ?? []).flatMap(({ leg }) =>
      leg.face === face.id && leg.fa && leg.fb ? [leg.fa.u, leg.fb.u] : [],
    );
    return us.length > 0 ? [[start + Math.min(...us), start + Math.max(...us)]] : [];
  });
}

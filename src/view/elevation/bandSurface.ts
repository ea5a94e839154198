import { bandMirrorItems } from './bandMirror.ts';
import { faceCaption, metres, roomTitle, wallTitle } from './captions.ts';
import { drawFace, figuresOn, type FaceDrawing } from './drawings.ts';
import { facesToShow, findFace } from './faces.ts';
import { bandSpot, faceStart, layoutBand, type BandFace, type BandLayout } from './layout.ts';
import type { FaceMark } from './marks.ts';
import { paintFace } from './paintFace.ts';
import { paintWords } from './paintWords.ts';
import { paintMarks } from '../shared/marks.ts';
import { createMirror } from '../shared/mirror.ts';
import { drawText } from '../shared/paint.ts';
import { createStage, type CanvasStage, type Frame } from '../shared/stage.ts';
import { connectSurface } from '../shared/surface.ts';
import { faceToScreen, pan, screenToFace, zoomAbout, type Camera } from '../../tools/camera.ts';
import type { App } from '../../tools/app.ts';
import type { Ref, Spot } from '../../tools/types.ts';
import type { Fabric } from '../../engine/fabric/types.ts';
import type { FacePoint, PlanPoint, Px, ScreenPoint } from '../../engine/model/units.ts';

/** Pixels kept free above the walls for their names, and below for figures. */
const HEAD: Px = 62;
const FOOT: Px = 30;
const SIDE: Px = 10;

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
  status: HTMLElement,
): BandSurface {
  const stage = createStage(canvas);
  const mirror = createMirror(stage, 'Elevations of the picked room', 'band');
  let scene: Scene | null = null;
  let tell: (shown: boolean) => void = () => undefined;
  let fitted = '';

  const toSpot = (at: ScreenPoint): Spot | null => {
    if (scene === null) return null;
    const place = screenToFace(stage.camera(), at);
    const spot = bandSpot(scene.layout, place.u, place.z);
    return spot && { surface: 'face', face: spot.face, at: spot.at };
  };
  const describe = (at: ScreenPoint): string => {
    const spot = toSpot(at);
    const found = spot?.surface === 'face' ? findFace(app.derived.get().derived, spot.face) : null;
    if (!spot || spot.surface !== 'face' || !found) return '';
    return `${wallTitle(found.fabric, found.face)}: ${Math.round(spot.at.u)} from the left, ${Math.round(spot.at.z)} up`;
  };
  const surface = connectSurface({
    app,
    surface: 'face',
    host,
    stage,
    mirror,
    toSpot,
    describe,
    // On a phone one finger scrolls the walls sideways unless a tool other than select is in hand.
    claim: (_at, touch) =>
      scene === null || (touch && app.session.getState().tool === 'select') ? 'pan' : 'tool',
  });

  const fitCamera = (layout: BandLayout): Camera => {
    const { height } = stage.size();
    const scale = Math.max(0.01, (height - HEAD - FOOT) / Math.max(1, layout.height));
    const width = layout.width * scale;
    return { scale, left: Math.max(SIDE, (stage.size().width - width) / 2), top: height - FOOT };
  };
  const refit = (): void => {
    if (scene === null || stage.size().height < 10) return;
    fitted = `${scene.key}|${stage.size().height}`;
    stage.setCamera(fitCamera(scene.layout));
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
  stage.setPainter('underlay', (frame) => {
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
    paintWords(frame, words);
    eachFace(frame, (face) => paintCaption(app, frame, scene as Scene, face));
  });
  stage.setPainter('overlay', (frame) => {
    const { selection, hover, lit, face: picked } = app.session.getState();
    const refs: Ref[] = hover ? [...selection, hover] : [...selection];
    const preview = app.runner.preview();
    eachFace(frame, (face, drawing) => {
      const figures = figuresOn(drawing, face.face, refs, lit);
      paintFace(frame, figures, face.start);
      paintWords(frame, [{ marks: figures, start: face.start }]);
      if (picked === face.face.id) underline(frame, face);
      const marks = preview?.faces.get(face.face.id);
      const place = (at: PlanPoint | FacePoint): ScreenPoint =>
        faceToScreen(frame.camera, 'u' in at ? at : { u: at.x, z: -at.y }, face.start);
      if (marks) paintMarks(frame, marks, place);
    });
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
  /** Scrolls to what was selected elsewhere, when it is on one of these walls and out of sight. */
  const follow = (selection: readonly Ref[]): void => {
    const ref = selection[0];
    if (!scene || !ref || selection.length !== 1) return;
    const drawings = scene.drawings;
    const at = scene.layout.faces.flatMap((f, i) => {
      const on = drawings[i]?.points.find((p) => !p.ghost && ref.table === 'points' && p.point.id === ref.id);
      return on ? [f.start + on.at.u] : [];
    })[0];
    if (at !== undefined) bringIn(at, at);
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
  const zoom = (by: number): void => {
    const { width, height } = stage.size();
    stage.setCamera(zoomAbout(stage.camera(), { px: width / 2, py: height / 2 }, by));
  };
  const unview = app.viewer.subscribe((target) => {
    if (target.kind === 'zoom' && target.surface === 'face') zoom(target.by);
    if (target.kind !== 'face') return;
    const found = findFace(app.derived.get().derived, target.face);
    if (!found) return;
    app.session.set({ face: target.face, room: found.face.room });
    const start = scene && faceStart(scene.layout, target.face);
    if (start === null || start === undefined) return;
    if (target.u === null) bringIn(start, start + found.face.length);
    else bringIn(start + target.u, start + target.u);
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
    fit: refit,
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
      stage.dispose();
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

/** Angles between faces: "internal", "external", a free end; a thin upright mark with its kind under the floor line. */
function paintAngles(frame: Frame, layout: BandLayout): void {
  const { ctx, theme, camera } = frame;
  for (const angle of layout.angles) {
    const x = angle.at * camera.scale + camera.left;
    const foot = camera.top;
    const top = camera.top - layout.height * camera.scale;
    ctx.strokeStyle = theme.muted;
    ctx.lineWidth = 1;
    ctx.setLineDash(angle.kind === 'external' ? [8, 3, 2, 3] : angle.kind === 'internal' ? [4, 4] : [1, 4]);
    ctx.beginPath();
    ctx.moveTo(x, top);
    ctx.lineTo(x, foot);
    ctx.stroke();
    ctx.setLineDash([]);
    ctx.beginPath();
    // Seen from above: an internal angle opens towards the person, an external one away from them.
    const h = angle.kind === 'internal' ? -4 : angle.kind === 'external' ? 4 : 0;
    ctx.moveTo(x - 5, foot + 8 - h);
    ctx.lineTo(x, foot + 8 + h);
    ctx.lineTo(x + 5, foot + 8 - h);
    ctx.stroke();
  }
}

/** The wall's name above it; shorter where there is little room, and kept in sight while the wall is. */
function paintCaption(app: App, frame: Frame, scene: Scene, band: BandFace): void {
  const { ctx, camera, theme, size } = frame;
  const left = band.start * camera.scale + camera.left;
  const right = left + band.face.length * camera.scale;
  const x = Math.max(left, Math.min(6, right - 60));
  const room = right - x + 8;
  const { doc } = app.store.getState();
  const title = wallTitle(scene.fabric, band.face);
  const full = faceCaption(doc, scene.fabric, band.face).slice(title.length + 2);
  const y = Math.max(12, camera.top - scene.layout.height * camera.scale - HEAD + 16);
  if (left > size.width || right < 0) return;
  const fits = (words: string, font: string): boolean => {
    ctx.font = `${font} ${theme.font}`;
    return ctx.measureText(words).width <= room;
  };
  const name = roomTitle(scene.fabric, band.face);
  const back = (words: string, font: string, dy: number): void => {
    ctx.font = `${font} ${theme.font}`;
    ctx.globalAlpha = 0.88;
    ctx.fillStyle = theme.paper;
    ctx.fillRect(x - 3, y + dy - 8, ctx.measureText(words).width + 6, 16);
    ctx.globalAlpha = 1;
  };
  const head = [`${title}, ${name}`, title, title.replace(' wall', '')].find((w) => fits(w, '600 13px'));
  const under = [full, metres(band.face.length)].find((w) => fits(w, '11px'));
  if (head) back(head, '600 13px', 0);
  if (under) back(under, '11px', 15);
  if (head) drawText(frame, head, { px: x, py: y }, { size: 13, bold: true, align: 'left' });
  if (under) drawText(frame, under, { px: x, py: y + 15 }, { size: 11, align: 'left', colour: theme.muted });
}

function underline(frame: Frame, band: BandFace): void {
  const { ctx, camera, theme } = frame;
  const left = band.start * camera.scale + camera.left;
  ctx.fillStyle = theme.select;
  ctx.fillRect(left, camera.top + 1, band.face.length * camera.scale, 3);
}

function paintCursor(frame: Frame, at: ScreenPoint): void {
  const { ctx, theme } = frame;
  ctx.strokeStyle = theme.accent;
  ctx.lineWidth = 1.5;
  ctx.beginPath();
  ctx.moveTo(at.px - 10, at.py);
  ctx.lineTo(at.px + 10, at.py);
  ctx.moveTo(at.px, at.py - 10);
  ctx.lineTo(at.px, at.py + 10);
  ctx.stroke();
}

export type { CanvasStage };

import { placeInSpace, storeyOf } from '../document/commands/places.ts';
import type { FaceId } from '../engine/fabric/types.ts';
import type { Id, Point } from '../engine/model/document.ts';
import type { App } from '../tools/app.ts';
import { fromLeft } from './facePlace.ts';

/** How much of the plan is shown round a thing, mm. */
const SPAN = 4000;

/** Brings a point into view in the plan and, when it is on a wall, in the band. */
export function showPoint(app: App, point: Point): void {
  const { doc } = app.store.getState();
  const storey = storeyOf(doc, point.place);
  if (storey === null) return;
  const at = placeInSpace(doc, point.place);
  app.session.set({ storey });
  app.viewer.show({ kind: 'plan', x: at.x, y: at.y, span: SPAN });
  if (point.place.on !== 'face') return;
  const left = fromLeft(doc, app.derived.get().derived, point.place);
  if (left) showFace(app, left.face.id, left.u);
}

/** Unrolls the room of a face in the band, and brings the face into view there. */
export function showFace(app: App, face: FaceId, u: number | null): void {
  for (const fabric of app.derived.get().derived.fabrics.values()) {
    const found = fabric.faces.get(face);
    if (!found) continue;
    app.session.set({ storey: fabric.storey, room: found.room, face });
    app.viewer.show({ kind: 'face', face, u });
  }
}

/** Brings a whole run into view in the plan, and its first wall in the band. */
export function showRun(app: App, run: Id): void {
  const legs = app.derived.get().derived.runs.get(run)?.legs ?? [];
  const ends = legs.flatMap((leg) => [leg.leg.a, leg.leg.b]);
  if (ends.length === 0) return;
  const storey = legs[0]?.leg.storey;
  if (storey !== undefined) app.session.set({ storey });
  const xs = ends.map((p) => p.x);
  const ys = ends.map((p) => p.y);
  app.viewer.show({
    kind: 'box',
    box: { minX: Math.min(...xs), maxX: Math.max(...xs), minY: Math.min(...ys), maxY: Math.max(...ys) },
  });
  const onFace = legs.find((leg) => leg.leg.face !== null)?.leg;
  if (onFace?.face) showFace(app, onFace.face, onFace.fa?.u ?? null);
}

import { facesOfRoom } from './faces.ts';
import type { Fabric, Face } from '../../engine/fabric/types.ts';
import type { BuildUp, PlanDocument } from '../../engine/model/document.ts';
import type { Mm } from '../../engine/model/units.ts';

const DIRECTIONS = ['right', 'bottom right', 'bottom', 'bottom left', 'left', 'top left', 'top', 'top right'];

/** Which wall of the room this is on the drawing: "top" for the wall you face when looking up the drawing. */
export function directionOf(face: Face): string {
  // Facing the wall with its left end a and right end b, one looks a quarter turn anticlockwise (on screen) from a to b.
  const look = Math.atan2(-(face.b.x - face.a.x), face.b.y - face.a.y);
  const turn = Math.round((look / (Math.PI * 2)) * 8 + 8) % 8;
  return DIRECTIONS[turn] as string;
}

/** "Top wall", numbered in band order when the room has several that way: "Top wall 2". */
export function wallTitle(fabric: Fabric, face: Face): string {
  const direction = directionOf(face);
  const same = facesOfRoom(fabric, face).filter((f) => directionOf(f) === direction);
  const name = `${direction[0]?.toUpperCase() ?? ''}${direction.slice(1)} wall`;
  return same.length > 1 ? `${name} ${same.findIndex((f) => f.id === face.id) + 1}` : name;
}

/** Name of the room a face looks into; "outside" when it looks outwards, "room" when it has no name yet. */
export function roomTitle(fabric: Fabric, face: Face): string {
  const room = face.room === null ? undefined : fabric.rooms.get(face.room);
  return room ? (room.tag?.name ?? 'unnamed room') : 'outside';
}

/** What the wall is made of, in two words: "timber stud", "block". */
export function constructionOf(buildUp: BuildUp): string {
  const has = (material: string): boolean => buildUp.layers.some((l) => l.material === material);
  if (buildUp.frame === 'metal') return 'metal stud';
  if (buildUp.frame === 'timber') return has('sheathing') ? 'timber frame' : 'timber stud';
  return has('block') ? 'block' : has('brick') ? 'brick' : 'masonry';
}

/** Metres with two places, as on a drawing. */
export function metres(length: Mm): string {
  return `${(length / 1000).toFixed(2)} m`;
}

/** "Top wall, 3.40 m, timber stud 88 mm": a face of several builds names each once. */
export function faceCaption(doc: PlanDocument, fabric: Fabric, face: Face): string {
  const builds = face.builds.map((build) => {
    const buildUp = doc.buildUps.byId[build.buildUp];
    return `${buildUp ? constructionOf(buildUp) : 'wall'} ${Math.round(build.thickness)} mm`;
  });
  return [wallTitle(fabric, face), metres(face.length), ...new Set(builds)].join(', ');
}

/** Whole millimetres for figures on the drawing. */
export function figure(length: Mm): string {
  return String(Math.round(length));
}

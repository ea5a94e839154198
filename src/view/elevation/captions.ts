import { wallTitle } from '../../engine/words/walls.ts';
import type { Fabric, Face } from '../../engine/fabric/types.ts';
import type { BuildUp, PlanDocument } from '../../engine/model/document.ts';
import type { Mm } from '../../engine/model/units.ts';

/** "Top wall 2", as a heading. */
export function faceHeading(fabric: Fabric, face: Face): string {
  const title = wallTitle(fabric, face);
  return `${title[0]?.toUpperCase() ?? ''}${title.slice(1)}`;
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
  return [faceHeading(fabric, face), metres(face.length), ...new Set(builds)].join(', ');
}

/** Whole millimetres for figures on the drawing. */
export function figure(length: Mm): string {
  return String(Math.round(length));
}

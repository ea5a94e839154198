import { tracingToPlan } from '../engine/geometry/tracing.ts';
import type { StoreyTracing } from '../engine/model/tracing.ts';
import type { Program } from './program.ts';
import { proposeWalls } from './proposals.ts';

/** A pixel of the copy in which walls are looked for, mm of the building: a thin wall is still some pixels thick. */
const LOOKED_AT = 10;
/** No copy is larger, px in all: what a phone can bear. */
const MOST_PIXELS = 8_000_000;

const BLIND =
  'Only walls that lie square to one another and are drawn dark, or as two lines, can be seen. Slanted, curved and grey walls and what furniture or text hides are missed, and a worktop or a frame may be taken for a wall.';

/** Looks for walls on a tracing's picture and proposes them; answers why nothing is proposed, or null. */
export async function findWalls(program: Program, tracing: StoreyTracing): Promise<string | null> {
  const { source, scale } = tracing;
  if (source.kind !== 'picture') return 'Walls are looked for on pictures only.';
  const picture = program.assets.shown(source);
  if (!picture) return 'The picture is not ready yet. Try again in a moment.';
  const mm = { width: source.width * scale.mmPerUnit, height: source.height * scale.mmPerUnit };
  // Never finer than the picture itself.
  const own = mm.width / picture.width;
  const least = Math.sqrt((mm.width * mm.height) / MOST_PIXELS);
  const mmPerPixel = Math.max(own, LOOKED_AT, least);
  const [width, height] = [mm.width, mm.height].map((size) => Math.max(1, Math.round(size / mmPerPixel)));
  try {
    const found = await program.pictures.walls(picture, width as number, height as number, mmPerPixel);
    if (found.walls.length === 0) return `No walls were found on ${tracing.name}. ${BLIND}`;
    const placed = (p: { readonly x: number; readonly y: number }) =>
      tracingToPlan(tracing, { x: p.x / scale.mmPerUnit, y: p.y / scale.mmPerUnit });
    proposeWalls(program, {
      storey: tracing.lies.storey,
      from: tracing.name,
      walls: found.walls.map((w) => ({ ...w, a: placed(w.a), b: placed(w.b) })),
      blind: BLIND,
    });
    return null;
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return `Walls could not be looked for (${why}).`;
  }
}

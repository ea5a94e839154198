import type { ToolRunner } from '../../tools/app.ts';
import type { Preview, PreviewMark } from '../../tools/types.ts';
import type { FaceId } from '../../engine/fabric/types.ts';

/** Something besides the tool that draws on the overlay. */
export interface OverlaySource {
  preview(): Preview | null;
  subscribe(listener: () => void): () => void;
}

/** The runner as the views know it, with another source's marks drawn under those of its tool. */
export function withOverlay(runner: ToolRunner, under: OverlaySource): ToolRunner {
  return {
    ...runner,
    preview: () => merged(under.preview(), runner.preview()),
    subscribe(listener) {
      const leave = [runner.subscribe(listener), under.subscribe(listener)];
      return () => leave.forEach((each) => each());
    },
  };
}

function merged(a: Preview | null, b: Preview | null): Preview | null {
  if (a === null || b === null) return a ?? b;
  const faces = new Map<FaceId, readonly PreviewMark[]>(a.faces);
  for (const [face, marks] of b.faces) faces.set(face, [...(faces.get(face) ?? []), ...marks]);
  return { plan: [...a.plan, ...b.plan], faces };
}

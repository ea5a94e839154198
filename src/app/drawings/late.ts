import type { DrawingKind } from '../../io/drawingKind.ts';
import type { DrawingSource } from '../../tools/drawings.ts';
import type { Drawings } from './drawings.ts';

/** Drawings whose readers are fetched when the first is opened or looked at, so that the page opens sooner. */
export interface LateDrawings extends DrawingSource {
  /** What is there so far; null before the first drawing. */
  now(): Drawings | null;
  open(kind: DrawingKind, name: string, bytes: Uint8Array<ArrayBuffer>): Promise<string | null>;
}

export function lateDrawings(load: () => Promise<Drawings>): LateDrawings {
  const listeners = new Set<() => void>();
  let drawings: Drawings | null = null;
  let coming: Promise<Drawings> | null = null;
  const changed = (): void => {
    for (const listener of [...listeners]) listener();
  };
  const fetched = (): Promise<Drawings> => {
    coming ??= load().then(
      (loaded) => {
        drawings = loaded;
        loaded.subscribe(changed);
        changed();
        return loaded;
      },
      (error: unknown) => {
        coming = null;
        throw error;
      },
    );
    return coming;
  };
  /** Asked for in passing: what does not arrive is asked for again at the next look. */
  const asked = (): Drawings | null => {
    if (!drawings) fetched().catch(() => undefined);
    return drawings;
  };
  return {
    now: () => drawings,
    async open(kind, name, bytes) {
      try {
        return await (await fetched()).open(kind, name, bytes);
      } catch {
        return `${name}: the reader of drawings did not arrive. Try again when the connection is back.`;
      }
    },
    tiles: (source, inSight, scale) => asked()?.tiles(source, inSight, scale) ?? [],
    lines: (source) => asked()?.lines(source) ?? null,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

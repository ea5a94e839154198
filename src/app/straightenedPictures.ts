import type { PictureSource } from '../engine/geometry/straightened.ts';
import type { Straighten } from '../engine/model/tracing.ts';
import type { PictureWork } from '../workers/pictureClient.ts';
import type { Assets } from './assets.ts';

type Picture = ReturnType<Assets['picture']>;

/** The assets, with straightened pictures made when they are first to be shown, off the page's own thread. */
export function withStraightened(
  assets: Assets,
  work: PictureWork,
  problem: (message: string) => void,
): Assets {
  const made = new WeakMap<Straighten, Picture>();
  const listeners = new Set<() => void>();
  const make = (photo: NonNullable<Picture>, by: Straighten): void => {
    made.set(by, null);
    work
      .straighten(photo, by)
      .then((bitmap) => {
        made.set(by, bitmap);
        for (const listener of [...listeners]) listener();
      })
      .catch((error: unknown) => {
        const why = error instanceof Error ? error.message : String(error);
        problem(`A photograph could not be straightened (${why}).`);
      });
  };
  return {
    ...assets,
    shown(source: PictureSource) {
      const photo = assets.picture(source.asset);
      const by = source.straighten;
      if (by === null || photo === null) return photo;
      if (made.get(by) === undefined) make(photo, by);
      return made.get(by) ?? null;
    },
    subscribe(listener) {
      listeners.add(listener);
      const leave = assets.subscribe(listener);
      return () => {
        listeners.delete(listener);
        leave();
      };
    },
  };
}

import type { Px, ScreenPoint } from '../../engine/model/units.ts';

interface Taken {
  readonly x0: Px;
  readonly y0: Px;
  readonly x1: Px;
  readonly y1: Px;
}

/** Keeps labels off each other: a label goes to the first of its places that is free, or nowhere. */
export interface LabelSpace {
  /** Centre of the first place where a box of this size is free; it is then taken. */
  place(spots: readonly ScreenPoint[], width: Px, height: Px): ScreenPoint | null;
  /** Marks a box as taken whatever lies there. */
  take(at: ScreenPoint, width: Px, height: Px): void;
}

export function labelSpace(): LabelSpace {
  const cells = new Map<string, Taken[]>();
  const CELL = 64;
  const each = (box: Taken, visit: (list: Taken[]) => boolean): boolean => {
    for (let cx = Math.floor(box.x0 / CELL); cx <= Math.floor(box.x1 / CELL); cx++) {
      for (let cy = Math.floor(box.y0 / CELL); cy <= Math.floor(box.y1 / CELL); cy++) {
        const key = `${cx}/${cy}`;
        let list = cells.get(key);
        if (!list) {
          list = [];
          cells.set(key, list);
        }
        if (visit(list)) return true;
      }
    }
    return false;
  };
  const boxAt = (at: ScreenPoint, width: Px, height: Px): Taken => ({
    x0: at.px - width / 2,
    y0: at.py - height / 2,
    x1: at.px + width / 2,
    y1: at.py + height / 2,
  });
  const clashes = (box: Taken) =>
    each(box, (list) => list.some((t) => t.x0 < box.x1 && box.x0 < t.x1 && t.y0 < box.y1 && box.y0 < t.y1));
  const add = (box: Taken) =>
    each(box, (list) => {
      list.push(box);
      return false;
    });
  return {
    place(spots, width, height) {
      for (const spot of spots) {
        const box = boxAt(spot, width, height);
        if (clashes(box)) continue;
        add(box);
        return spot;
      }
      return null;
    },
    take(at, width, height) {
      add(boxAt(at, width, height));
    },
  };
}

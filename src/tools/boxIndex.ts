import RBush from 'rbush';
import type { MmBox } from './camera.ts';

interface Entry extends MmBox {
  readonly id: number;
}

/** Boxes by the number of their item, found by area. Built once from a list; not changed afterwards. */
export interface BoxIndex {
  /** Numbers of the items whose boxes touch or overlap the area, rising. */
  search(area: MmBox): number[];
  readonly size: number;
}

/**
 * An R-tree over the boxes, by their place in the list; null leaves an item out. The tree itself never leaks: one
 * not-a-number box would empty all its searches, so such a box is our own broken contract and throws.
 */
export function boxIndex(boxes: readonly (MmBox | null)[]): BoxIndex {
  const entries: Entry[] = [];
  boxes.forEach((box, id) => {
    if (box === null) return;
    const { minX, minY, maxX, maxY } = box;
    if (![minX, minY, maxX, maxY].every(Number.isFinite) || minX > maxX || minY > maxY) {
      throw new Error(`Box ${id} is not finite and in order: ${minX}, ${minY}, ${maxX}, ${maxY}`);
    }
    entries.push({ id, minX, minY, maxX, maxY });
  });
  const tree = new RBush<Entry>().load(entries);
  return {
    size: entries.length,
    search(area) {
      return tree
        .search(area)
        .map((entry) => entry.id)
        .sort((a, b) => a - b);
    },
  };
}

/** The box round some places, widened by `by` mm; null for none. */
export function boxOf(places: readonly { readonly x: number; readonly y: number }[], by = 0): MmBox | null {
  if (places.length === 0) return null;
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const p of places) {
    minX = Math.min(minX, p.x);
    minY = Math.min(minY, p.y);
    maxX = Math.max(maxX, p.x);
    maxY = Math.max(maxY, p.y);
  }
  return { minX: minX - by, minY: minY - by, maxX: maxX + by, maxY: maxY + by };
}

/** The box round boxes; null for none. */
export function boxAround(boxes: readonly (MmBox | null)[]): MmBox | null {
  const corners = boxes.flatMap((b) =>
    b === null
      ? []
      : [
          { x: b.minX, y: b.minY },
          { x: b.maxX, y: b.maxY },
        ],
  );
  return boxOf(corners);
}

export function boxesTouch(a: MmBox, b: MmBox): boolean {
  return a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;
}

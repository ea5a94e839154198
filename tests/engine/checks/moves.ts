import type { Place, PlanDocument, Table } from '../../../src/engine/model/document.ts';
import type { PlanPoint } from '../../../src/engine/model/units.ts';

const mapTable = <T extends { readonly id: string }>(
  table: Table<T>,
  change: (record: T) => T,
): Table<T> => ({
  order: table.order,
  byId: Object.fromEntries(Object.entries(table.byId).map(([id, record]) => [id, change(record)])),
});

/** The plan with every position moved, and sides of walls swapped where the move is a mirror. */
function movedPlan(doc: PlanDocument, move: (p: PlanPoint) => PlanPoint, mirror: boolean): PlanDocument {
  const side = (s: 'left' | 'right') => (mirror ? (s === 'left' ? 'right' : 'left') : s);
  const place = (p: Place): Place => (p.on === 'face' ? { ...p, side: side(p.side) } : { ...p, ...move(p) });
  return {
    ...doc,
    nodes: mapTable(doc.nodes, (n) => ({ ...n, ...move(n) })),
    walls: mapTable(doc.walls, (w) => ({ ...w, flipped: mirror ? !w.flipped : w.flipped })),
    roomTags: mapTable(doc.roomTags, (t) => ({ ...t, ...move(t) })),
    points: mapTable(doc.points, (p) => ({ ...p, place: place(p.place) })),
    runs: mapTable(doc.runs, (r) => ({ ...r, corners: r.corners.map(place) })),
    things: mapTable(doc.things, (t) => ({
      ...t,
      place:
        t.place.on === 'face'
          ? { ...t.place, side: side(t.place.side) }
          : { ...t.place, outline: t.place.outline.map(move) },
    })),
  };
}

/** The whole plan shifted and turned clockwise (as seen) about the origin. */
export function turned(doc: PlanDocument, radians: number, by: PlanPoint): PlanDocument {
  // Quarter turns without rounding.
  const clean = (x: number) => (Math.abs(x) < 1e-15 ? 0 : x);
  const [c, s] = [clean(Math.cos(radians)), clean(Math.sin(radians))];
  return movedPlan(doc, ({ x, y }) => ({ x: c * x - s * y + by.x, y: s * x + c * y + by.y }), false);
}

/** The whole plan seen in a mirror. */
export function mirrored(doc: PlanDocument): PlanDocument {
  return movedPlan(doc, ({ x, y }) => ({ x: -x, y }), true);
}

import type { PlanDocument } from '../engine/model/document.ts';
import { find, rows } from '../engine/model/tables.ts';

const WIDE = 120;
const HIGH = 80;
const MOST = 300;

/** The walls of the first storey that has any, as the data of an SVG path in a box of 120 by 80; empty without walls. */
export function planPicture(doc: PlanDocument): string {
  const storey = rows(doc.walls)[0]?.storey;
  const lines = rows(doc.walls)
    .filter((wall) => wall.storey === storey)
    .slice(0, MOST)
    .flatMap((wall) => {
      const [from, to] = [find(doc, 'nodes', wall.from), find(doc, 'nodes', wall.to)];
      return from && to ? [[from, to] as const] : [];
    });
  if (lines.length === 0) return '';
  const all = lines.flat();
  const [left, top] = [Math.min(...all.map((n) => n.x)), Math.min(...all.map((n) => n.y))];
  const [right, low] = [Math.max(...all.map((n) => n.x)), Math.max(...all.map((n) => n.y))];
  const scale = Math.min((WIDE - 8) / Math.max(1, right - left), (HIGH - 8) / Math.max(1, low - top));
  const at = (n: { readonly x: number; readonly y: number }): string =>
    `${(4 + (n.x - left) * scale).toFixed(1)} ${(4 + (n.y - top) * scale).toFixed(1)}`;
  return lines.map(([from, to]) => `M${at(from)}L${at(to)}`).join('');
}

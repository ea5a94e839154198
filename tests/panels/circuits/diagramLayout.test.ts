import { describe, expect, it } from 'vitest';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { diagramOf, type CircuitDiagram } from '../../../src/engine/electrical/diagram.ts';
import { factsOfCircuit } from '../../../src/engine/electrical/facts.ts';
import { electricalInput } from '../../../src/engine/circuitReport/report.ts';
import type { Circuit } from '../../../src/engine/model/document.ts';
import {
  drawDiagram,
  HALF,
  wrapWords,
  type DrawnDiagram,
} from '../../../src/panels/circuits/diagramLayout.ts';
import { makeStudio } from '../../samples/studio.ts';

const { doc } = makeStudio();
const input = electricalInput(doc, deriveAll(doc));
const diagram = (id: string): CircuitDiagram => {
  const facts = factsOfCircuit(input, doc.circuits.byId[id] as Circuit);
  return diagramOf(facts.net, facts.wiring);
};
const words = { nameOf: (n: { label: string }) => n.label, aboutRun: (e: { cores: string }) => e.cores };
const draw = (id: string, width = 330): DrawnDiagram => drawDiagram(diagram(id), width, words);

/** Ends of a path in M, H, V, Q commands. */
function ends(path: string): { from: readonly [number, number]; to: readonly [number, number] } {
  let [x, y] = [NaN, NaN];
  let from: readonly [number, number] | null = null;
  for (const [, letter, rest = ''] of path.matchAll(/([MHVQ])([^MHVQ]*)/g)) {
    const n = rest.trim().split(/[ ,]+/).map(Number);
    if (letter === 'H') x = n[0] as number;
    else if (letter === 'V') y = n[0] as number;
    else [x, y] = n.slice(-2) as [number, number];
    from ??= [x, y];
  }
  return { from: from ?? [x, y], to: [x, y] };
}

describe('diagrams of circuits', () => {
  it('puts every point and every run on paper once, within it', () => {
    for (const id of doc.circuits.order) {
      const { nodes, edges } = diagram(id);
      const drawn = draw(id);
      expect(drawn.rest).toEqual([]);
      expect(drawn.nodes.map((n) => n.node.point).sort()).toEqual(nodes.map((n) => n.point).sort());
      expect(drawn.edges.map((e) => e.edge.run).sort()).toEqual(edges.map((e) => e.run).sort());
      for (const { x, y } of drawn.nodes) {
        expect(x).toBeGreaterThanOrEqual(HALF);
        expect(x).toBeLessThanOrEqual(drawn.width - HALF);
        expect(y).toBeGreaterThanOrEqual(HALF);
        expect(y).toBeLessThanOrEqual(drawn.height - HALF);
      }
    }
  });

  it('keeps symbols clear of one another', () => {
    for (const id of doc.circuits.order) {
      const { nodes } = draw(id);
      nodes.forEach((a, i) => {
        for (const b of nodes.slice(i + 1))
          expect(Math.max(Math.abs(a.x - b.x), Math.abs(a.y - b.y))).toBeGreaterThanOrEqual(2 * HALF);
      });
    }
  });

  it('leads each line from one of its points to the other', () => {
    for (const id of doc.circuits.order) {
      const { nodes, edges } = draw(id);
      const at = (point: string): readonly [number, number] => {
        const node = nodes.find((n) => n.node.point === point);
        return [node?.x ?? NaN, node?.y ?? NaN];
      };
      const near = (a: readonly [number, number], b: readonly [number, number]): boolean =>
        Math.max(Math.abs(a[0] - b[0]), Math.abs(a[1] - b[1])) <= HALF + 4;
      for (const { edge, path } of edges) {
        const { from, to } = ends(path);
        const [a, b] = [at(edge.from), at(edge.to)];
        expect([edge.label, (near(from, a) && near(to, b)) || (near(from, b) && near(to, a))]).toEqual([
          edge.label,
          true,
        ]);
      }
    }
  });

  it('draws a ring as a ring: down one side from the board and up the other, spurs inside', () => {
    const { nodes, width } = draw('c2');
    const board = nodes.find((n) => n.node.onRing === 0);
    expect(board?.x).toBe(width / 2);
    const ring = nodes.filter((n) => (n.node.onRing ?? 0) > 0);
    const half = Math.ceil(ring.length / 2);
    ring.forEach(({ node, x }) => {
      expect(x > width / 2).toBe((node.onRing ?? 0) <= half);
    });
    const down = ring.filter((n) => n.x > width / 2).map((n) => n.y);
    const up = ring.filter((n) => n.x < width / 2).map((n) => n.y);
    expect(down).toEqual(down.toSorted((a, b) => a - b));
    expect(up).toEqual(up.toSorted((a, b) => b - a));
    const [left, right] = [Math.min(...ring.map((n) => n.x)), Math.max(...ring.map((n) => n.x))];
    for (const { x } of nodes.filter((n) => n.node.onRing === null)) {
      expect(x).toBeGreaterThan(left);
      expect(x).toBeLessThan(right);
    }
  });

  it('draws a radial as one straight chain', () => {
    expect(new Set(draw('c1').nodes.map((n) => n.x)).size).toBe(1);
  });

  it('tells what could not be drawn: a run that closes a loop in a radial', () => {
    const base = diagram('c1');
    const [first] = base.edges;
    if (first === undefined) throw new Error('the kiln has no runs');
    const extra = { ...first, run: 'r99', label: 'R99', from: 'p1', to: 'p13' };
    const drawn = drawDiagram({ ...base, shape: 'unjoined', edges: [...base.edges, extra] }, 330, words);
    expect(drawn.rest.map((e) => e.label)).toEqual(['R99']);
  });
});

describe('wrapping words', () => {
  it('breaks between words and never within one', () => {
    expect(wrapWords('permanent line, neutral', 15)).toEqual(['permanent line,', 'neutral']);
    expect(wrapWords('abcdefghij kl', 4)).toEqual(['abcdefghij', 'kl']);
    expect(wrapWords('', 10)).toEqual([]);
  });
});

import { describe, expect, it } from 'vitest';
import { drawnLines } from '../../src/app/drawings/drawnLines.ts';
import type { StoreyTracing } from '../../src/engine/model/tracing.ts';
import { createLineWork } from '../../src/io/lineWork.ts';
import type { LineDrawing } from '../../src/io/lineDrawing.ts';
import type { DrawingSource } from '../../src/tools/drawings.ts';
import { drawnNear } from '../../src/tools/drawn.ts';
import { snapPlan } from '../../src/tools/snap.ts';
import type { PlanShapes } from '../../src/tools/planShapes.ts';

/** An L of two lines that meet at (4, 3), and one on another layer. */
function drawing(): LineDrawing {
  const work = createLineWork();
  work.moveTo(0, 3);
  work.lineTo(4, 3);
  work.end('walls');
  work.moveTo(4, 3);
  work.lineTo(4, 0);
  work.end('walls');
  work.moveTo(1, 1);
  work.lineTo(2, 1);
  work.end('furniture');
  const done = work.done();
  return { ...done, texts: [], origin: { x: 0, y: 0 }, mainBox: done.box, unit: null, leftOut: [] };
}

/** Metres, a quarter turn about a corner at (1000, 2000): (u, v) of the drawing lies at (1000 - 1000 v, 2000 + 1000 u). */
const tracing: StoreyTracing = {
  id: 't1',
  name: 'plan.dxf',
  lies: { on: 'storey', storey: 's1', x: 1000, y: 2000, rotation: Math.PI / 2 },
  source: {
    kind: 'lines',
    asset: 'a',
    unit: 1000,
    offset: { x: 0, y: 0 },
    layers: null,
    width: 5,
    height: 4,
  },
  scale: { mmPerUnit: 1000, known: [], stated: null },
  date: null,
  revision: '',
  opacity: 1,
  locked: false,
  visible: true,
};
const source = (layers: readonly string[]): DrawingSource => {
  const lines = drawnLines(drawing(), layers, { x: 0, y: 0 }, { width: 5, height: 4 });
  return { tiles: () => [], lines: () => lines, subscribe: () => () => undefined };
};
const bare: PlanShapes = {
  storey: 's1',
  fabric: null,
  nodes: [],
  walls: [],
  openings: [],
  rooms: [],
  looseTags: [],
  points: [],
  things: [],
  legs: [],
  tracings: [tracing],
};
const aim = (x: number, y: number, layers = ['walls', 'furniture'], off = false) => {
  const p = { x, y };
  const drawn = drawnNear(source(layers), [tracing], p, 200);
  return snapPlan(bare, p, { scale: 0.1, tolerance: 10, drawn, off });
};

describe('lines of a tracing as targets', () => {
  it('an end that is shared by two lines', () => {
    const snap = aim(-1960, 6030);
    expect(snap.label).toBe('End of a drawn line');
    expect(snap.at.x).toBeCloseTo(-2000, 6);
    expect(snap.at.y).toBeCloseTo(6000, 6);
  });
  it('a line, where no end is near', () => {
    const snap = aim(-1960, 4000);
    expect(snap.label).toContain('Drawn line');
    expect(snap.at.x).toBeCloseTo(-2000, 6);
  });
  it('nothing of a hidden layer, a hidden tracing, or with snapping off', () => {
    expect(aim(20, 3500).label).toContain('Drawn line');
    expect(aim(20, 3500, ['walls']).label).toBeNull();
    expect(aim(20, 3500, ['walls', 'furniture'], true).label).toBeNull();
    expect(
      drawnNear(source(['walls']), [{ ...tracing, visible: false }], { x: -2000, y: 6000 }, 200),
    ).toEqual([]);
  });
  it('the nearest forty of many', () => {
    const work = createLineWork();
    for (let i = 0; i < 300; i++) {
      work.moveTo(0, i / 1000);
      work.lineTo(4, i / 1000);
      work.end('hatching');
    }
    const done = work.done();
    const many: LineDrawing = { ...drawing(), ...done };
    const lines = drawnLines(many, ['hatching'], { x: 0, y: 0 }, { width: 5, height: 4 });
    const found = drawnNear({ ...source([]), lines: () => lines }, [tracing], { x: 900, y: 4000 }, 200);
    expect(found).toHaveLength(40);
    expect(Math.max(...found.map((s) => Math.abs(s.a.x - 900)))).toBeCloseTo(20, 6);
  });
});

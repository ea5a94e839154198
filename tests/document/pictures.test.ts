import { describe, expect, it } from 'vitest';
import { transformPlan } from '../../src/document/commands/transform.ts';
import { addOpening } from '../../src/document/commands/openings.ts';
import { addRoomTag } from '../../src/document/commands/rooms.ts';
import {
  addPicture,
  editTracing,
  removeTracing,
  setKnownLengths,
  straightenTracing,
  turnTracing,
} from '../../src/document/commands/tracings.ts';
import { buildFabric } from '../../src/engine/fabric/build.ts';
import { resolveRun } from '../../src/engine/fabric/resolve.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import type { StoreyTracing } from '../../src/engine/model/tracing.ts';
import { after, boxRoom, wired } from './plans.ts';
import { expectRefusal, prove } from './prove.ts';

const picture = (x = 0, y = 0) =>
  addPicture({
    storey: 's1',
    name: 'plan.png',
    mediaType: 'image/png',
    asset: 'ab'.repeat(32),
    width: 1200,
    height: 800,
    x,
    y,
  });
const level = (pixels: number, length: number) => ({ ax: 100, ay: 50, bx: 100 + pixels, by: 50, length });
const plumb = (pixels: number, length: number) => ({ ax: 100, ay: 50, bx: 100, by: 50 + pixels, length });

describe('pictures', () => {
  it('are added, moved, dimmed, locked and removed', () => {
    const plan = after(boxRoom(), picture());
    expect(plan.tracings.byId['u1']).toMatchObject({ scale: { mmPerUnit: 10, known: [] }, locked: false });
    prove(plan, editTracing('u1', { x: 500, y: -20 }));
    const dim = prove(plan, editTracing('u1', { opacity: 0.2 }));
    expect(dim.doc.tracings.byId['u1']?.opacity).toBe(0.2);
    expectRefusal(plan, editTracing('u1', { opacity: 1.2 }), /between 0 and 1/);
    const locked = after(plan, editTracing('u1', { locked: true }));
    expectRefusal(locked, editTracing('u1', { x: 1 }), /locked/);
    expectRefusal(locked, turnTracing('u1', 1, { x: 0, y: 0 }), /locked/);
    prove(locked, editTracing('u1', { opacity: 1 }));
    prove(locked, editTracing('u1', { locked: false, x: 1 }));
    prove(locked, removeTracing('u1'));
  });

  it('are straightened about the start of the line, to level or plumb, whichever is nearer', () => {
    const plan = after(boxRoom(), picture(1000, 2000));
    const a = { x: 1500, y: 2500 };
    for (const [dx, dy, angle] of [
      [1000, 20, -Math.atan2(20, 1000)],
      [-20, 1000, -Math.atan2(20, 1000)],
      [-1000, 30, Math.atan2(30, 1000)],
    ] as const) {
      const done = prove(plan, straightenTracing('u1', a, { x: a.x + dx, y: a.y + dy }));
      const now = (done.doc.tracings.byId['u1'] as StoreyTracing).lies;
      expect(Math.sin(now.rotation)).toBeCloseTo(Math.sin(angle), 12);
      // The picture's spot under `a` is still under it: the corner keeps its distance from it.
      expect(Math.hypot(now.x - a.x, now.y - a.y)).toBeCloseTo(Math.hypot(500, 500), 9);
    }
    expectRefusal(plan, straightenTracing('u1', a, a), /from one spot to another/);
  });

  it('are scaled by two known lengths, and the scale is the least-squares one', () => {
    const plan = after(boxRoom(), picture());
    // 400 px for 4000 mm and 300 px for 3030 mm: (400 * 4000 + 300 * 3030) / (400² + 300²) = 2509000 / 250000.
    const done = prove(plan, setKnownLengths('u1', [level(400, 4000), plumb(300, 3030)]));
    expect(done.doc.tracings.byId['u1']?.scale.mmPerUnit).toBeCloseTo(10.036, 12);
    expectRefusal(plan, setKnownLengths('u1', [level(0, 4000)]), /only 0\.0 pixels/);
    const one = prove(plan, setKnownLengths('u1', [level(400, 4000)]));
    expect(one.note).toMatch(/Only one known length/);
    expect(prove(one.doc, setKnownLengths('u1', [])).note).toMatch(/a guess again/);
  });

  it('take what was traced to a guess along, once, about their corner', () => {
    const plan = after(
      boxRoom(),
      picture(-1000, -500),
      addOpening({ wall: 'w1', kind: 'door', along: 1000, width: 800, sill: 0, head: 2040 }),
      addRoomTag({ storey: 's1', x: 2000, y: 1500, name: 'Studio', use: 'workshop' }),
    );
    const done = prove(plan, setKnownLengths('u1', [level(400, 5000), plumb(400, 5000)]));
    expect(done.note).toMatch(/scaled with the tracing/);
    // 12.5 mm a pixel instead of 10: everything 1.25 times as far from (-1000, -500); heights stay.
    expect(done.doc.nodes.byId['n3']).toMatchObject({ x: -1000 + 5000 * 1.25, y: -500 + 3500 * 1.25 });
    expect(done.doc.openings.byId['o1']).toMatchObject({ along: 1250, width: 1000, head: 2040 });
    expect(done.doc.roomTags.byId['t1']).toMatchObject({ x: 2750, y: 2000 });
    const again = prove(done.doc, setKnownLengths('u1', [level(400, 5200), plumb(400, 5200)]));
    expect(again.doc.nodes).toBe(done.doc.nodes);
    expect(again.note).toBeNull();
  });
});

it('keeps drops plumb when the plan under them is scaled: walls stay as thick as they are', () => {
  const plan = after(wired(), picture());
  const done = prove(plan, setKnownLengths('u1', [level(400, 5000), plumb(400, 5000)]));
  // Surfaces at 44 mm off the centre lines: y = 3000 · 1.25 - 44 below, y = 44 above; 1.25 times everything else.
  expect(done.doc.runs.byId['r1']?.corners.map((c) => c.on === 'ceiling' && [c.x, c.y])).toEqual([
    [3750, 3706],
    [3750, 1875],
    [1250, 1875],
    [1250, 44],
  ]);
});

describe('moving and turning the whole plan', () => {
  const legs = (doc: PlanDocument) => {
    const fabrics = new Map([['s1', buildFabric(doc, 's1')]]);
    const run = doc.runs.byId['r1'];
    if (!run) throw new Error('no run');
    return resolveRun(doc, fabrics, run).legs.map((l) => [l.kind, Math.round(l.length * 1e6) / 1e6]);
  };

  it('changes no length, and four quarter turns change nothing', () => {
    const plan = after(wired(), picture(100, 200));
    const before = legs(plan);
    expect(before.map(([kind]) => kind)).toEqual([
      'face',
      'riser',
      'ceiling',
      'ceiling',
      'ceiling',
      'riser',
      'face',
    ]);
    let now = plan;
    for (let i = 0; i < 4; i++) {
      now = prove(now, transformPlan({ x: 0, y: 0 }, 1)).doc;
      expect(legs(now)).toEqual(before);
    }
    expect(now.nodes).toEqual(plan.nodes);
    expect(now.runs).toEqual(plan.runs);
    expect((now.tracings.byId['u1'] as StoreyTracing).lies.rotation).toBeCloseTo(0, 12);
    expect(legs(prove(plan, transformPlan({ x: 123.5, y: -77 }, -1)).doc)).toEqual(before);
    // A quarter turn clockwise on screen: right becomes down.
    expect(after(plan, transformPlan({ x: 0, y: 0 }, 1)).nodes.byId['n2']).toMatchObject({ x: 0, y: 4000 });
    expectRefusal(plan, transformPlan({ x: 1e9, y: 0 }), /usable|too far|Move by/);
    expectRefusal(plan, transformPlan({ x: 0, y: 0 }, 0.5), /whole quarter turns/);
  });
});

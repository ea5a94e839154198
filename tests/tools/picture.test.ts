import { describe, expect, it } from 'vitest';
import { addPicture, editTracing } from '../../src/document/commands/tracings.ts';
import { pictureMoveTool } from '../../src/tools/picture/moveTool.ts';
import { pictureScaleTool, pictureStraightenTool } from '../../src/tools/picture/lineTool.ts';
import { planToTracing, tracingToPlan } from '../../src/engine/geometry/tracing.ts';
import type { StoreyTracing } from '../../src/engine/model/tracing.ts';
import type { Tool } from '../../src/tools/types.ts';
import { World, onPlan } from './run/world.ts';

const EMPTY = { nodes: {}, walls: {} };
function traced<S>(tool: Tool<S>) {
  const w = new World(tool, EMPTY);
  const id = w.do(
    addPicture({
      storey: 's1',
      name: 'plan.png',
      mediaType: 'image/png',
      asset: 'a'.repeat(64),
      width: 1200,
      height: 800,
      x: 100,
      y: 200,
    }),
  );
  return { w, id, picture: () => w.doc.tracings.byId[id] };
}
const typed = <S>(w: World<S>, text: string) => w.send({ type: 'typed', text });

describe('the picture under the plan', () => {
  it('knows its pixels by their place on the plan, turned too', () => {
    const { picture } = traced(pictureMoveTool);
    const now = picture() as StoreyTracing;
    const turned = { ...now, lies: { ...now.lies, rotation: Math.PI / 2 } };
    // A quarter turn clockwise about the top left corner: 30 px right become 300 mm down.
    const at = tracingToPlan(turned, { x: 30, y: 0 });
    expect(at.x).toBeCloseTo(100, 9);
    expect(at.y).toBeCloseTo(500, 9);
    const back = planToTracing(turned, { x: 100 - 400, y: 200 });
    expect(back.x).toBeCloseTo(0, 9);
    expect(back.y).toBeCloseTo(40, 9);
  });

  it('is moved by a drag or by arrow keys, unless it is locked', () => {
    const { w, id, picture } = traced(pictureMoveTool);
    w.drag(onPlan(1000, 1000), onPlan(1500, 1200));
    expect(picture()?.lies).toMatchObject({ x: 600, y: 400 });
    w.key('ArrowLeft');
    expect(picture()?.lies).toMatchObject({ x: 590, y: 400 });
    w.do(editTracing(id, { locked: true }));
    w.drag(onPlan(1000, 1000), onPlan(1500, 1200));
    expect(picture()?.lies).toMatchObject({ x: 590, y: 400 });
    expect(w.notices[0]).toMatch(/locked/);
  });

  it('is straightened along a drawn line', () => {
    const { w, picture } = traced(pictureStraightenTool);
    // 2° off level: it is to be turned back by 2°.
    const slope = Math.tan((2 * Math.PI) / 180);
    w.drag(onPlan(1000, 1000), onPlan(5000, 1000 + 4000 * slope));
    const turn = (picture() as StoreyTracing).lies.rotation;
    expect(Math.sin(turn)).toBeCloseTo(Math.sin((-2 * Math.PI) / 180), 9);
  });

  it('gets its scale from two typed lengths, the second asked crossways', () => {
    const { w, picture } = traced(pictureScaleTool);
    // 300 px across, drawn as two clicks.
    w.click(onPlan(1100, 1200));
    w.click(onPlan(4100, 1200));
    expect(w.step.ask).toMatchObject({ label: 'Real length', focus: true });
    typed(w, '6m');
    expect(picture()?.scale.known).toHaveLength(1);
    expect(picture()?.scale.mmPerUnit).toBeCloseTo(20, 9);
    expect(w.step.hint).toMatch(/second length, up and down/);
    // 100 px down at the new scale is 2000 mm on the plan; really it is 2010.
    w.drag(onPlan(1100, 1200), onPlan(1100, 3200));
    typed(w, '2010');
    expect(picture()?.scale.known).toHaveLength(2);
    // Least squares through both: (300 * 6000 + 100 * 2010) / (300² + 100²).
    expect(picture()?.scale.mmPerUnit).toBeCloseTo((300 * 6000 + 100 * 2010) / 100_000, 6);
  });

  it('keeps the line while a length is no length, and drops it by Escape', () => {
    const { w, picture } = traced(pictureScaleTool);
    w.drag(onPlan(1100, 1200), onPlan(4100, 1200));
    typed(w, 'six');
    expect(w.notices).toHaveLength(1);
    expect(w.step.ask?.label).toBe('Real length');
    w.key('Escape');
    expect(w.step.ask).toBeNull();
    expect(picture()?.scale.known).toHaveLength(0);
  });

  it('says so when there is none', () => {
    const w = new World(pictureScaleTool, EMPTY);
    w.drag(onPlan(0, 0), onPlan(1000, 0));
    expect(w.notices[0]).toMatch(/no tracing/i);
  });
});

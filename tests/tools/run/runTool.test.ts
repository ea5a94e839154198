import { describe, expect, it } from 'vitest';
import { runTool, type RunState } from '../../../src/tools/run/runTool.ts';
import { addOpening } from '../../../src/document/commands/openings.ts';
import { DEFAULT_STOREY } from '../../../src/engine/model/defaults.ts';
import { deriveFor, ENCLOSED, onPlan, onWall, short, TWO_ROOMS, World } from './world.ts';

// The left room of TWO_ROOMS: its faces are top.right, mid.right, bottom.right and left.right (walls go clockwise on
// screen, so the room lies to their right). 88 mm walls: finished surfaces 44 mm in from the centre lines.
const world = (): World<RunState> => new World(runTool, ENCLOSED);
const lastRun = (w: World<RunState>): string => w.doc.runs.order[w.doc.runs.order.length - 1] ?? '';
const answers = (w: World<RunState>): string[] =>
  (deriveFor(w.doc).runs.get(lastRun(w))?.legs ?? []).map((c) => `${c.leg.kind} ${c.answer}`);

const labelOf = (w: World<RunState>, face: string): string => {
  const mark = w.step.preview?.faces.get(face)?.find((m) => m.kind === 'label');
  return mark?.kind === 'label' ? mark.text : '';
};

describe('drawing a run over the ceiling', () => {
  it('goes up from a socket, square across and plumb down to another in two clicks', () => {
    const w = world();
    const p1 = w.point('socket', 'top', 'right', 1000, 450);
    const p2 = w.point('socket', 'bottom', 'right', 1000, 450);
    w.click(onPlan(1000, 44));
    w.click(onPlan(3000, 2956));
    const run = w.doc.runs.byId[lastRun(w)];
    expect([run?.from, run?.to]).toEqual([p1, p2]);
    // bottom runs from e (4000, 3000) to f (0, 3000): along 1000 is x = 3000.
    expect(short(w.doc, lastRun(w))).toEqual(['ceiling 1000 44', 'ceiling 3000 44', 'ceiling 3000 2956']);
    expect(answers(w)).toEqual([
      'face inside',
      'riser not-checked',
      'ceiling not-checked',
      'ceiling not-checked',
      'riser not-checked',
      'face inside',
    ]);
    expect(w.session.selection).toEqual([{ table: 'runs', id: lastRun(w), part: null }]);
  });

  it('turns the elbow the other way with F', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    w.point('socket', 'bottom', 'right', 1000, 450);
    w.click(onPlan(1000, 44));
    w.move(onPlan(3000, 2956));
    w.key('f');
    w.click(onPlan(3000, 2956));
    expect(short(w.doc, lastRun(w))).toEqual(['ceiling 1000 44', 'ceiling 1000 2956', 'ceiling 3000 2956']);
  });

  it('keeps corners square to the wall it came from, and lets Alt go askew', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    w.click(onPlan(1000, 44));
    // 1456 mm from the wall's surface: at this scale lengths go in steps of 10, so 1460.
    w.click(onPlan(1130, 1500));
    w.click(onPlan(2500, 1650), true);
    w.key('Enter');
    expect(short(w.doc, lastRun(w))).toEqual(['ceiling 1000 44', 'ceiling 1000 1504', 'ceiling 2500 1650']);
  });

  it('puts the corner where the plan is clicked, with an elbow on the way', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    w.click(onPlan(1000, 44));
    w.click(onPlan(2500, 1504));
    w.key('Enter');
    expect(short(w.doc, lastRun(w))).toEqual(['ceiling 1000 44', 'ceiling 2500 44', 'ceiling 2500 1504']);
  });

  it('turns the elbow of a clicked corner with F, and lines it up with points both ways', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    const light = w.ceilingPoint('ceiling-light', 2540, 2500);
    w.click(onPlan(1000, 44));
    w.key('f');
    w.click(onPlan(2500, 1504));
    w.key('Enter');
    expect(light).not.toBe('');
    expect(short(w.doc, lastRun(w))).toEqual(['ceiling 1000 44', 'ceiling 1000 1504', 'ceiling 2540 1504']);
  });

  it('drops to a ceiling light without a corner on the fitting', () => {
    const w = world();
    w.point('switch-1way', 'top', 'right', 1000, 1200);
    w.ceilingPoint('ceiling-light', 1000, 1500);
    w.click(onPlan(1000, 44));
    w.click(onPlan(1000, 1500));
    expect(short(w.doc, lastRun(w))).toEqual(['ceiling 1000 44']);
    expect(answers(w)).toEqual([
      'face inside',
      'riser not-checked',
      'ceiling not-checked',
      'riser not-checked',
    ]);
  });

  it('stops above a wall clicked on the plan, shows that wall, and drops in the band', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    const bottom = w.face('bottom', 'right');
    w.click(onPlan(1000, 44));
    w.click(onPlan(1000, 2950));
    expect(w.session.face).toBe(bottom.id);
    expect(w.session.room).toBe(bottom.room);
    // Plumb below the corner although the cursor is 30 mm off.
    const foot = bottom.length - (1000 - 44);
    w.click(onWall(bottom, foot + 30, 600));
    w.key('Enter');
    expect(short(w.doc, lastRun(w))).toEqual([
      'ceiling 1000 44',
      'ceiling 1000 2956',
      'bottom.right 3000 600',
    ]);
    expect(w.doc.runs.byId[lastRun(w)]?.to).toBeNull();
  });

  it('refuses the floor when it is solid, in words', () => {
    const w = world();
    w.session = { ...w.session, choices: { ...w.session.choices, void: 'floor' } };
    w.point('socket', 'top', 'right', 1000, 450);
    w.click(onPlan(1000, 44));
    w.click(onPlan(1000, 1500));
    expect(w.notices).toContain('The floor is solid: no void under it.');
    expect(w.step.state.kind).toBe('drawing');
    expect(w.doc.runs.order).toEqual([]);
  });
});

describe('drawing a run to another storey', () => {
  const void1 = { kind: 'void', voidDepth: 200, cableDrop: 100, joists: null } as const;
  const upper = { ...DEFAULT_STOREY, id: 's2', name: 'Upper floor', level: 2700, floor: void1 };
  const house = (): World<RunState> => new World(runTool, { ...TWO_ROOMS, storeys: [DEFAULT_STOREY, upper] });

  it('goes up through the void between, plumb', () => {
    const w = house();
    w.ceilingPoint('ceiling-light', 1000, 1500);
    w.click(onPlan(1000, 1500));
    w.click(onPlan(2500, 1500));
    w.session = { ...w.session, storey: 's2', choices: { ...w.session.choices, void: 'floor' } };
    w.click(onPlan(2500, 2500));
    w.key('Enter');
    expect(short(w.doc, lastRun(w))).toEqual(['ceiling 2500 1500', 'floor 2500 1500', 'floor 2500 2500']);
    expect(answers(w).map((x) => x.split(' ')[0])).toEqual(['riser', 'ceiling', 'riser', 'floor']);
    // Cable 100 mm above the 2400 ceiling, then 100 mm below the floor at 2700: 2500 to 2600.
    expect(
      deriveFor(w.doc)
        .runs.get(lastRun(w))
        ?.legs.map((c) => c.leg.length),
    ).toEqual([100, 1500, 100, 1000]);
  });

  it('must be in the void before it changes storey', () => {
    const w = house();
    w.point('socket', 'top', 'right', 1000, 450);
    w.click(onPlan(1000, 44));
    w.session = { ...w.session, storey: 's2' };
    w.click(onPlan(1000, 1500));
    expect(w.notices.at(-1)).toContain('another storey');
    expect(w.step.state.kind === 'drawing' && w.step.state.draft.path.length).toBe(1);
  });
});

describe('drawing a run on the walls', () => {
  it('keeps level or plumb, snaps to strips and bands, and says why', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    w.point('socket', 'top', 'right', 3000, 450);
    const top = w.face('top', 'right');
    w.click(onWall(top, 956, 450));
    // 60 mm low and mostly along: level at 450 still.
    w.move(onWall(top, 2000, 390));
    const label = labelOf(w, top.id);
    expect(label).toContain('1 044 mm, 1.04 m in all');
    // Up: plumb, and held 75 mm below the top within 8 px (80 mm).
    w.click(onWall(top, 990, 2300));
    expect(w.step.state.kind === 'drawing' && w.step.state.draft.path[1]).toMatchObject({
      along: 1000,
      z: 2325,
    });
    w.click(onWall(top, 2990, 2300));
    w.click(onWall(top, 2956, 450));
    expect(short(w.doc, lastRun(w))).toEqual(['top.right 1000 2325', 'top.right 3000 2325']);
    expect(answers(w)).toEqual(['face inside', 'face inside', 'face inside']);
  });

  it('draws a diagonal with Alt, and the check calls it not level', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    w.session = { ...w.session, snapping: false };
    const top = w.face('top', 'right');
    w.click(onWall(top, 956, 450));
    w.move(onWall(top, 1800, 1500), true);
    expect(labelOf(w, top.id)).toContain('neither level nor plumb');
    w.click(onWall(top, 1800, 1500), true);
    w.key('Enter');
    expect(short(w.doc, lastRun(w))).toEqual(['top.right 1844 1500']);
    expect(deriveFor(w.doc).runs.get(lastRun(w))?.legs[0]?.offLevel).toBeGreaterThan(0.1);
  });

  it('ends on a point at another height with one elbow, level first, in both strips', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    w.point('switch-1way', 'top', 'right', 2500, 1200);
    const top = w.face('top', 'right');
    w.click(onWall(top, 956, 450));
    w.click(onWall(top, 2456, 1200));
    expect(short(w.doc, lastRun(w))).toEqual(['top.right 2500 450']);
    expect(answers(w)).toEqual(['face inside', 'face inside']);
  });

  it('turns the corner to the neighbouring wall level, with the two places at the angle', () => {
    const w = world();
    w.point('socket', 'top', 'right', 3000, 450);
    w.point('socket', 'mid', 'right', 1500, 450);
    const mid = w.face('mid', 'right');
    w.click(onWall(w.face('top', 'right'), 2956, 450));
    w.click(onWall(mid, 1456, 450));
    expect(short(w.doc, lastRun(w))).toEqual(['top.right 3956 450', 'mid.right 44 450']);
    expect(answers(w)).toEqual(['face inside', 'corner inside', 'face inside']);
    const check = deriveFor(w.doc).runs.get(lastRun(w));
    // 3956 - 3000 on the one wall and 1500 - 44 on the other.
    expect(check?.legs.map((c) => Math.round(c.leg.length))).toEqual([956, 0, 1456]);
  });

  it('leaves a wall upwards above its top line and goes on over the ceiling to another wall', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    w.point('socket', 'left', 'right', 1500, 450);
    const top = w.face('top', 'right');
    w.click(onWall(top, 956, 450));
    w.click(onWall(top, 1020, 2480));
    expect(w.step.state.kind === 'drawing' && w.step.state.draft.path.length).toBe(2);
    const left = w.face('left', 'right');
    // left runs from f (0, 3000) up to a: along 1500 is y = 1500.
    w.click(onWall(left, left.length - 1456, 450));
    expect(short(w.doc, lastRun(w))).toEqual(['ceiling 1000 44', 'ceiling 44 44', 'ceiling 44 1500']);
  });

  it('passes through the wall with T, and the band follows to the other room', () => {
    const w = world();
    w.point('socket', 'mid', 'right', 1500, 450);
    const back = w.point('socket', 'mid', 'left', 1000, 450);
    const mid = w.face('mid', 'right');
    w.click(onWall(mid, 1456, 450));
    w.move(onWall(mid, 1200, 450));
    w.key('t');
    const other = w.face('mid', 'left');
    expect([w.session.face, w.session.room]).toEqual([other.id, other.room]);
    expect(other.room).not.toBe(mid.room);
    // Facing it from the other side u runs the other way: along 1000 is 2956 - 1000 from its left end.
    w.click(onWall(other, 2956 - 1000, 450));
    expect(w.doc.runs.byId[lastRun(w)]?.to).toBe(back);
    expect(short(w.doc, lastRun(w))).toEqual(['mid.right 1244 450', 'mid.left 1244 450']);
    expect(answers(w).map((x) => x.split(' ')[0])).toEqual(['face', 'through', 'face']);
  });

  it('passes through right behind a point of the other room without a corner on that point', () => {
    const w = world();
    w.point('socket', 'mid', 'right', 1500, 450);
    w.point('socket', 'mid', 'left', 1000, 450);
    const mid = w.face('mid', 'right');
    w.click(onWall(mid, 1456, 450));
    // 44 mm off, held by the strip of the point on the other side of this 88 mm wall.
    w.move(onWall(mid, 1000, 450));
    expect(labelOf(w, mid.id)).toContain('from the other side');
    w.key('t');
    w.click(onWall(w.face('mid', 'left'), 1956, 450));
    expect(short(w.doc, lastRun(w))).toEqual(['mid.right 1000 450']);
    expect(answers(w).map((x) => x.split(' ')[0])).toEqual(['face', 'through']);
  });

  it('warns while a leg would cross a door', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    w.do(addOpening({ wall: 'top', kind: 'door', along: 1500, width: 800, sill: 0, head: 2000 }));
    const top = w.face('top', 'right');
    w.click(onWall(top, 956, 450));
    w.move(onWall(top, 1300, 450));
    expect(labelOf(w, top.id)).not.toContain('door');
    w.move(onWall(top, 3000, 450));
    expect(labelOf(w, top.id)).toContain('crosses the door');
  });

  it('takes a typed length for the leg under way', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    const top = w.face('top', 'right');
    w.click(onWall(top, 956, 450));
    w.move(onWall(top, 1500, 440));
    w.send({ type: 'typed', text: '1.25 m' });
    w.key('Enter');
    expect(short(w.doc, lastRun(w))).toEqual(['top.right 2250 450']);
    w.click(onWall(top, 956, 450));
    w.move(onWall(top, 1500, 440));
    w.send({ type: 'typed', text: 'much' });
    expect(w.notices.at(-1)).toContain('Type a length');
  });

  it('takes clicks back one by one with Backspace, and Escape leaves nothing', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    const before = w.doc;
    w.click(onPlan(1000, 44));
    w.click(onPlan(1000, 1500));
    w.click(onPlan(2500, 1500));
    const places = (): number => (w.step.state.kind === 'drawing' ? w.step.state.draft.path.length : 0);
    expect(places()).toBe(4);
    w.key('Backspace');
    expect(places()).toBe(3);
    w.key('Backspace');
    expect(places()).toBe(1);
    w.key('Backspace');
    expect(w.step.state.kind).toBe('idle');
    w.click(onPlan(1000, 44));
    w.click(onPlan(1000, 1500));
    w.key('Escape');
    expect(w.step.state.kind).toBe('idle');
    expect(w.doc).toBe(before);
  });

  it('needs corners before it can be parked, and a cancel in mid-press drops the press only', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    w.click(onPlan(1000, 44));
    w.key('Enter');
    expect(w.notices.at(-1)).toContain('Nothing drawn yet');
    w.pointer('down', onPlan(1000, 900));
    w.send({ type: 'cancel' });
    expect(w.step.state.kind === 'drawing' && w.step.state.draft.path.length).toBe(1);
    w.send({ type: 'cancel' });
    expect(w.step.state.kind).toBe('idle');
  });

  it('draws by dragging from point to point', () => {
    const w = world();
    w.point('socket', 'top', 'right', 1000, 450);
    w.point('socket', 'top', 'right', 2000, 450);
    const top = w.face('top', 'right');
    w.drag(onWall(top, 956, 450), onWall(top, 1956, 450));
    expect(w.doc.runs.order.length).toBe(1);
    expect(answers(w)).toEqual(['face inside']);
  });
});

describe('circuit and cable of a drawn run', () => {
  it('takes the circuit of the point that is not the board, and its cable', () => {
    const w = world();
    const board = w.point('consumer-unit', 'top', 'right', 500, 1400);
    const circuit = w.circuit({ topology: 'radial', cable: 'te4', board });
    const socket = w.point('socket', 'top', 'right', 2000, 1400, { circuit });
    const top = w.face('top', 'right');
    w.click(onWall(top, 456, 1400));
    w.click(onWall(top, 1956, 1400));
    expect(w.doc.runs.byId[lastRun(w)]).toMatchObject({ from: board, to: socket, circuit, cable: 'te4' });
  });

  it('takes three-core between two-way switches, unless another cable was picked', () => {
    const w = world();
    const circuit = w.circuit({ topology: 'lighting', cable: 'te1', cable3: 'tce1' });
    w.point('switch-2way', 'top', 'right', 1000, 1200, { circuit });
    w.point('switch-2way', 'top', 'right', 3000, 1200, { circuit });
    const top = w.face('top', 'right');
    w.click(onWall(top, 956, 1200));
    w.click(onWall(top, 2956, 1200));
    expect(w.doc.runs.byId[lastRun(w)]?.cable).toBe('tce1');
    expect(w.notices.at(-1)).toContain('two-way switches');
    w.session = { ...w.session, choices: { ...w.session.choices, cable: 'te2-5' } };
    w.click(onWall(top, 956, 1200));
    w.click(onWall(top, 2956, 1200));
    expect(w.doc.runs.byId[lastRun(w)]?.cable).toBe('te2-5');
  });
});

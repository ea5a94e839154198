import { expect, it } from 'vitest';
import { assignTool } from '../../../src/tools/assign.ts';
import { onPlan, onWall, World } from './world.ts';

it('paints points onto the chosen circuit, on the wall and on the plan, boards left out, one undo for a stroke', () => {
  const w = new World(assignTool);
  const circuit = w.circuit();
  const a = w.point('socket', 'top', 'right', 1000, 450);
  const b = w.point('socket', 'top', 'right', 1500, 450);
  const board = w.point('consumer-unit', 'top', 'right', 2200, 1400);
  const c = w.point('socket', 'bottom', 'right', 1000, 450);
  w.session = { ...w.session, choices: { ...w.session.choices, circuit } };
  const face = w.face('top', 'right');
  w.pointer('down', onWall(face, 956, 450));
  w.pointer('move', onWall(face, 1456, 450));
  expect(w.step.preview?.faces.get(face.id)).toHaveLength(2);
  w.pointer('move', onWall(face, 2156, 1400));
  w.pointer('up', onWall(face, 2156, 1400));
  const of = (id: string): string | null | undefined => w.doc.points.byId[id]?.circuit;
  expect([of(a), of(b), of(board), of(c)]).toEqual([circuit, circuit, null, null]);
  w.click(onPlan(3000, 2956));
  expect(of(c)).toBe(circuit);
  w.store.undo();
  w.store.undo();
  expect([of(a), of(b), of(c)]).toEqual([null, null, null]);
});

it('asks for a circuit first, and a cancelled stroke changes nothing', () => {
  const w = new World(assignTool);
  w.point('socket', 'top', 'right', 1000, 450);
  const before = w.doc;
  w.click(onPlan(1000, 44));
  expect(w.notices).toEqual(['Choose a circuit first.']);
  const circuit = w.circuit();
  w.session = { ...w.session, choices: { ...w.session.choices, circuit } };
  const with1 = w.doc;
  w.pointer('down', onPlan(1000, 44));
  w.send({ type: 'cancel' });
  w.pointer('up', onPlan(1000, 44));
  expect(w.doc).toBe(with1);
  expect(with1).not.toBe(before);
});

import { addCircuit, assignPoints, setControls } from '../../src/document/commands/circuits.ts';
import { addPoint } from '../../src/document/commands/points.ts';
import { addRun } from '../../src/document/commands/runs.ts';
import type { Command } from '../../src/document/types.ts';
import { newDocument, tableFrom } from '../../src/engine/model/defaults.ts';
import type { Place, PlanDocument, Wall, WallNode } from '../../src/engine/model/document.ts';

/** The document after commands that must all be allowed. */
export function after(doc: PlanDocument, ...commands: readonly Command[]): PlanDocument {
  return commands.reduce((now, command) => {
    const result = command.apply(now);
    if (!result.ok) throw new Error(`${command.name}: ${result.reason}`);
    return result.doc;
  }, doc);
}

/** One room, 4 by 3 m on centre lines, timber studs 88 mm: w1 top, w2 right, w3 bottom, w4 left; rooms lie right. */
export function boxRoom(): PlanDocument {
  const at: readonly [number, number][] = [
    [0, 0],
    [4000, 0],
    [4000, 3000],
    [0, 3000],
  ];
  const nodes = at.map(([x, y], i): WallNode => ({ id: `n${i + 1}`, storey: 's1', x, y }));
  const walls = at.map((_, i): Wall => ({
    id: `w${i + 1}`,
    storey: 's1',
    from: `n${i + 1}`,
    to: `n${((i + 1) % 4) + 1}`,
    buildUp: 'timber-stud',
    flipped: false,
    top: { kind: 'ceiling' },
    toldFromBehind: { left: null, right: null },
  }));
  return {
    ...newDocument('Test room'),
    nodes: tableFrom(nodes),
    walls: tableFrom(walls),
    counters: { s: 1, n: 4, w: 4 },
  };
}

/** A face place on the room side of the box room. */
export const inside = (wall: string, along: number, z: number): Place => ({
  on: 'face',
  wall,
  side: 'right',
  along,
  z,
});

/**
 * The box room with sockets p1 (w3) and p2 (w1), a switch p3 (w2) working p2, a board p4 (w4), ring c1 and run r1 from
 * p1 up into the ceiling, over to w1 and down to p2.
 */
export function wired(): PlanDocument {
  const over = (x: number, y: number): Place => ({ on: 'ceiling', storey: 's1', x, y });
  return after(
    boxRoom(),
    addPoint({ kind: 'socket', place: inside('w3', 1000, 450) }),
    addPoint({ kind: 'socket', place: inside('w1', 1000, 450) }),
    addPoint({ kind: 'switch-1way', place: inside('w2', 500, 1200) }),
    addPoint({ kind: 'consumer-unit', place: inside('w4', 1500, 1400) }),
    addCircuit({ topology: 'ring', name: 'Bench ring' }),
    assignPoints(['p1', 'p2'], 'c1'),
    setControls('p3', 0, ['p2']),
    addRun({
      from: 'p1',
      to: 'p2',
      // w3 runs from (4000, 3000) to (0, 3000): 1000 along is x = 3000; its room surface is y = 2956.
      corners: [over(3000, 2956), over(3000, 1500), over(1000, 1500), over(1000, 44)],
    }),
  );
}

import type { Joists } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { PlanPoint, Radians } from '../../engine/model/units.ts';
import { command, patch, refuse } from '../transact.ts';
import type { Command } from '../types.ts';
import { mapPlan } from './mapPlan.ts';
import { sound } from './plane.ts';

/** Turns the whole plan by quarter turns about the origin (clockwise on screen), then moves it. All storeys together. */
export function transformPlan(move: PlanPoint, quarterTurns = 0): Command {
  return command(quarterTurns === 0 ? 'Move plan' : 'Turn plan', (draft, step) => {
    const { doc } = step;
    if (!sound(move.x, move.y) || !Number.isInteger(quarterTurns))
      return refuse('Move by a length and turn by whole quarter turns.');
    const turns = ((quarterTurns % 4) + 4) % 4;
    const point = (p: PlanPoint): PlanPoint => {
      const t = turned(p, turns);
      return { x: t.x + move.x, y: t.y + move.y };
    };
    if (rows(doc.nodes).some((n) => !sound(point(n).x, point(n).y)))
      return refuse('The plan would move too far.');
    mapPlan(draft, doc, { storeys: new Set(doc.storeys.order), point, factor: 1 });
    const turn = (angle: Radians): Radians => (angle + (turns * Math.PI) / 2) % (2 * Math.PI);
    for (const { id, lies } of rows(doc.tracings)) {
      if (lies.on === 'face') continue;
      const rotation = turns === 0 ? lies.rotation : turn(lies.rotation);
      patch(draft, 'tracings', id, { lies: { ...lies, ...point(lies), rotation } });
    }
    if (turns === 0) return;
    const joists = (j: Joists | null): Joists | null => j && { ...j, direction: turn(j.direction) };
    for (const s of rows(doc.storeys))
      patch(draft, 'storeys', s.id, {
        ceiling: { ...s.ceiling, joists: joists(s.ceiling.joists) },
        floor: { ...s.floor, joists: joists(s.floor.joists) },
      });
  });
}

function turned(p: PlanPoint, turns: number): PlanPoint {
  if (turns === 1) return { x: -p.y, y: p.x };
  if (turns === 2) return { x: -p.x, y: -p.y };
  return turns === 3 ? { x: p.y, y: -p.x } : p;
}

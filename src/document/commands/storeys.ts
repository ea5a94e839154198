import type { Id, Storey } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { command, drop, nextId, patch, put, refuse } from '../transact.ts';
import type { Command } from '../types.ts';
import { sound } from './plane.ts';

/** A new storey above the highest one, built like it; `level` in mm above the datum where it is known. */
export function addStorey(name: string, level: number | null = null): Command {
  return command('Add storey', (draft, step) => {
    const below = rows(step.doc.storeys).reduce((top, s) => (s.level > top.level ? s : top));
    const id = nextId(draft, 'storeys');
    const depth = below.ceiling.kind === 'void' ? below.ceiling.voidDepth : 0;
    const at = level ?? below.level + below.ceilingHeight + depth;
    if (!sound(at)) return refuse('That level is not a usable height.');
    put(draft, 'storeys', { ...below, id, name: name.trim() || `Storey ${id.slice(1)}`, level: at });
    step.made(id);
  });
}

/** Changes a storey's name, level, heights, ceiling or floor. */
export function editStorey(id: Id, fields: Partial<Omit<Storey, 'id'>>): Command {
  return command('Edit storey', (draft, step) => {
    const now = step.doc.storeys.byId[id];
    if (!now) return refuse('That storey is no longer in the plan.');
    const next = { ...now, ...fields };
    if (!sound(next.level) || !(next.ceilingHeight > 0) || !sound(next.ceilingHeight))
      return refuse('A ceiling height must be more than 0 mm.');
    if (next.ceiling.voidDepth < 0 || next.floor.voidDepth < 0)
      return refuse('A void cannot be less than 0 mm deep.');
    patch(draft, 'storeys', id, fields);
  });
}

/** Takes out an empty storey. Refused for the last one, and while anything stands on it. */
export function removeStorey(id: Id): Command {
  return command('Remove storey', (draft, step) => {
    const { doc } = step;
    if (!doc.storeys.byId[id]) return refuse('That storey is no longer in the plan.');
    if (doc.storeys.order.length === 1) return refuse('A plan needs at least one storey.');
    const held = contentsOf(step.doc, id);
    if (held.length > 0) return refuse(`There is still something on this storey: ${held.join(', ')}.`);
    drop(draft, 'storeys', id);
  });
}

function contentsOf(doc: Parameters<Command['apply']>[0], storey: Id): string[] {
  const counts: [number, string][] = [
    [rows(doc.walls).filter((w) => w.storey === storey).length, 'walls'],
    [rows(doc.nodes).filter((n) => n.storey === storey).length, 'wall ends'],
    [rows(doc.tracings).filter((u) => u.lies.on === 'storey' && u.lies.storey === storey).length, 'tracings'],
    [rows(doc.roomTags).filter((t) => t.storey === storey).length, 'room names'],
    [rows(doc.points).filter((p) => p.place.on !== 'face' && p.place.storey === storey).length, 'points'],
    [rows(doc.things).filter((t) => t.place.on === 'plan' && t.place.storey === storey).length, 'things'],
    [
      rows(doc.runs).filter((r) => r.corners.some((c) => c.on !== 'face' && c.storey === storey)).length,
      'runs',
    ],
  ];
  return counts.filter(([n]) => n > 0).map(([n, what]) => `${n} ${what}`);
}

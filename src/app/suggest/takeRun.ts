import { addRun } from '../../document/commands/runs.ts';
import type { Command } from '../../document/types.ts';
import type { Id } from '../../engine/model/document.ts';
import type { RouteFound } from '../../engine/routing/types.ts';

/** One suggested run between two points as a command. */
export function takeRun(from: Id, to: Id, circuit: Id | null, route: RouteFound): Command {
  const { apply } = addRun({
    from,
    to,
    corners: route.corners,
    origin: 'suggested',
    ...(circuit === null ? {} : { circuit }),
  });
  return { name: 'Take suggested run', apply };
}

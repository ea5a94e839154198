import { cornersOf, type Draft } from './draft.ts';
import { samePlace } from '../../document/commands/places.ts';
import { addRun } from '../../document/commands/runs.ts';
import type { Command } from '../../document/types.ts';
import { BLANK_RUN } from '../../engine/model/blankRun.ts';
import { COINCIDENT } from '../../engine/fabric/tolerances.ts';
import type { Id, Place, PlanDocument, Point, Run } from '../../engine/model/document.ts';
import type { Ref, ToolContext } from '../types.ts';

/** The circuit of the start, unless that is the board; else of the end. */
export function circuitOfRun(doc: PlanDocument, from: Id | null, to: Id | null): Id | null {
  const of = (id: Id | null): Id | null => doc.points.byId[id ?? '']?.circuit ?? null;
  const isBoard = (id: Id | null): boolean => doc.points.byId[id ?? '']?.kind === 'consumer-unit';
  return isBoard(from) ? of(to) : (of(from) ?? of(to));
}

const strapped = (point: Point | undefined): boolean =>
  point?.kind === 'switch-2way' || point?.kind === 'switch-intermediate';

/**
 * The cable of a new run: the one chosen, when that is not just the usual one of the circuit chosen beside it; between
 * two-way switches the circuit's three-core cable; else the circuit's own. Undefined: the command's own choice.
 */
export function cableOfRun(
  ctx: ToolContext,
  circuit: Id | null,
  from: Id | null,
  to: Id | null,
): { cable: Id | undefined; why: string | null } {
  const { doc, session } = ctx;
  const usual = doc.circuits.byId[session.choices.circuit ?? '']?.cable ?? null;
  const own = circuit === null ? undefined : doc.circuits.byId[circuit];
  const { cable: chosen } = session.choices;
  if (chosen !== null && chosen !== usual && chosen !== own?.cable) return { cable: chosen, why: null };
  const both = strapped(doc.points.byId[from ?? '']) && strapped(doc.points.byId[to ?? '']);
  if (both && own?.cable3) {
    const name = doc.cables.byId[own.cable3]?.name ?? 'three-core cable';
    return {
      cable: own.cable3,
      why: `Between two-way switches: drawn in ${name}. Change it in the run's details.`,
    };
  }
  return { cable: own?.cable ?? chosen ?? undefined, why: null };
}

/** The run as it would be, not in the document yet: for looking at its legs while it grows. */
export function runAsDrawn(ctx: ToolContext, from: Id | null, to: Id | null, corners: readonly Place[]): Run {
  const circuit = circuitOfRun(ctx.doc, from, to);
  return {
    id: 'drawn',
    label: '',
    circuit,
    cable: cableOfRun(ctx, circuit, from, to).cable ?? ctx.doc.cables.order[0] ?? '',
    from,
    to,
    corners,
    fixing: 'in-void',
    origin: 'drawn',
    ...BLANK_RUN,
  };
}

/** The command that adds a drawn run, the selection that follows it and what is worth telling. */
export function finishRun(
  ctx: ToolContext,
  draft: Draft,
  to: Id | null,
): { command: Command; select: readonly Ref[]; notice: string | null } {
  const circuit = circuitOfRun(ctx.doc, draft.from, to);
  const { cable, why } = cableOfRun(ctx, circuit, draft.from, to);
  const end = ctx.doc.points.byId[to ?? '']?.place;
  let corners = cornersOf(draft);
  // A corner on the very spot of the point it ends on is no corner.
  while (end && corners.length > 0 && samePlace(corners[corners.length - 1] as Place, end, COINCIDENT)) {
    corners = corners.slice(0, -1);
  }
  const command = addRun({
    from: draft.from,
    to,
    corners,
    circuit,
    ...(cable === undefined ? {} : { cable }),
  });
  // A command is pure: asked beforehand, it tells the id it will give.
  const done = command.apply(ctx.doc);
  const id = done.ok ? done.made[0] : undefined;
  const parked = to === null ? 'It ends here on no point: join it to one later.' : null;
  return {
    command,
    select: id === undefined ? [] : [{ table: 'runs', id, part: null }],
    notice: why ?? parked,
  };
}

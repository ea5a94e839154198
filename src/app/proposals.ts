import { addProposedWalls } from '../document/commands/proposedWalls.ts';
import type { BuildUp, Id, PlanDocument } from '../engine/model/document.ts';
import type { ProposedWall } from '../engine/model/proposedWall.ts';
import { rows } from '../engine/model/tables.ts';
import type { Mm } from '../engine/model/units.ts';
import type { WallProposal } from '../tools/types.ts';
import { perform, type Program } from './program.ts';

/** Thicknesses within this of one another are one. Own choice: what a drawing reads to. */
const ALIKE: Mm = 20;

/** Walls of about one thickness, and how long they are in all. */
export interface ThicknessGroup {
  /** Mean, weighted by length. */
  readonly thickness: Mm;
  /** By their places in the proposal. */
  readonly walls: readonly number[];
  readonly length: Mm;
}

const lengthOf = (w: ProposedWall): Mm => Math.hypot(w.b.x - w.a.x, w.b.y - w.a.y);

/** The thicknesses of a proposal, thinnest first. */
export function thicknessGroups(walls: readonly ProposedWall[]): ThicknessGroup[] {
  const order = walls.map((_, i) => i).sort((a, b) => at(walls, a).thickness - at(walls, b).thickness);
  const groups: number[][] = [];
  for (const i of order) {
    const group = groups.at(-1);
    const before = group && at(walls, group[0] as number).thickness;
    if (group && before !== undefined && at(walls, i).thickness - before <= ALIKE) group.push(i);
    else groups.push([i]);
  }
  return groups.map((group) => {
    const length = group.reduce((sum, i) => sum + lengthOf(at(walls, i)), 0);
    const thick = group.reduce((sum, i) => sum + at(walls, i).thickness * lengthOf(at(walls, i)), 0);
    return { thickness: thick / length, walls: group, length };
  });
}

const at = (walls: readonly ProposedWall[], i: number): ProposedWall => walls[i] as ProposedWall;

export const thicknessOf = (build: Pick<BuildUp, 'layers'>): Mm =>
  build.layers.reduce((sum, layer) => sum + layer.thickness, 0);

/** The build-up of the plan's list that is nearest in thickness; null where the list is empty. */
export function nearestBuildUp(doc: PlanDocument, thickness: Mm): BuildUp | null {
  const off = (b: BuildUp): Mm => Math.abs(thicknessOf(b) - thickness);
  return rows(doc.buildUps).reduce<BuildUp | null>(
    (best, b) => (best && off(best) <= off(b) ? best : b),
    null,
  );
}

/** Shows walls that were found, all ticked, and takes the tool in hand that ticks them on the plan. */
export function proposeWalls(
  program: Program,
  found: Pick<WallProposal, 'storey' | 'from' | 'walls' | 'blind'>,
): void {
  program.session.set({
    proposal: { ...found, ticked: new Set(found.walls.map((_, i) => i)), chosen: null },
    stage: 'drawing',
    tool: 'proposed-walls',
    selection: [],
  });
}

/** Builds some walls of the proposal as one step, and takes them out of it; the last ends it. False where refused. */
export function acceptProposed(
  program: Program,
  which: ReadonlySet<number>,
  buildUpOf: (wall: number) => Id,
): boolean {
  const { proposal } = program.session.getState();
  if (!proposal) return false;
  const walls = proposal.walls.flatMap((wall, i) =>
    which.has(i) ? [{ ...wall, buildUp: buildUpOf(i) }] : [],
  );
  const outcome = perform(program, addProposedWalls(proposal.storey, walls));
  if (outcome.ok) refuseProposed(program, which);
  return outcome.ok;
}

/** Takes walls out of the proposal without building them; the last ends it. */
export function refuseProposed(program: Program, which: ReadonlySet<number>): void {
  const { proposal, tool } = program.session.getState();
  if (!proposal) return;
  const stay = proposal.walls.map((_, i) => i).filter((i) => !which.has(i));
  if (stay.length === 0) {
    program.session.set({
      proposal: null,
      ...(tool === 'proposed-walls' ? { tool: 'select' as const } : {}),
    });
    return;
  }
  program.session.set({
    proposal: {
      ...proposal,
      walls: stay.map((i) => at(proposal.walls, i)),
      ticked: new Set(stay.flatMap((i, now) => (proposal.ticked.has(i) ? [now] : []))),
      chosen: null,
    },
  });
}

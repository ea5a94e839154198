import type { Room } from '../../engine/fabric/types.ts';
import type { Circuit, Id, PlanDocument, Point, Run } from '../../engine/model/document.ts';
import { POINT_KINDS } from '../../engine/model/pointKinds.ts';
import { find } from '../../engine/model/tables.ts';
/** A room's own name, or its number among the rooms. */
export function roomName(room: Room, index: number): string {
  return room.tag?.name || `Room ${index + 1}`;
}

/** "P12 Socket-outlet, glazing bench". */
export function pointName(point: Point): string {
  const kind = POINT_KINDS[point.kind].name;
  return `${point.label} ${kind}${point.name && point.name !== kind ? `, ${point.name}` : ''}`;
}

/** "C3 Kiln". */
export function circuitName(circuit: Circuit | undefined): string {
  return circuit ? `${circuit.label} ${circuit.name}`.trim() : 'No circuit';
}

/** "R4: P1 to P3". */
export function runName(doc: PlanDocument, run: Run): string {
  const end = (id: Id | null): string => find(doc, 'points', id)?.label ?? 'no point';
  return `${run.label}: ${end(run.from)} to ${end(run.to)}`;
}

import type { FaceId, Room } from '../engine/fabric/types.ts';
import type { Derived } from '../engine/derive/types.ts';
import type { Circuit, Id, PlanDocument, Point, Run } from '../engine/model/document.ts';
import { POINT_KINDS } from '../engine/model/pointKinds.ts';
import { find } from '../engine/model/tables.ts';
import { roomTitle, wallTitle } from '../view/elevation/captions.ts';
import { findFace } from '../view/elevation/faces.ts';

/** A room's own name, or its number among the rooms. */
export function roomName(room: Room, index: number): string {
  return room.tag?.name || `Room ${index + 1}`;
}

/** "P12 Socket-outlet, glazing bench". */
export function pointName(point: Point): string {
  return `${point.label} ${POINT_KINDS[point.kind].name}${point.name ? `, ${point.name}` : ''}`;
}

/** "C3 Kiln". */
export function circuitName(circuit: Circuit | undefined): string {
  return circuit ? `${circuit.label} ${circuit.name}`.trim() : 'No circuit';
}

/** "R4: P1 to P3". */
export function runName(doc: PlanDocument, run: Run): string {
  const end = (id: Id | null): string => find(doc, 'points', id)?.label ?? 'a parked end';
  return `${run.label}: ${end(run.from)} to ${end(run.to)}`;
}

/** "Left wall, Workshop", as the band above the drawing of the wall says it. */
export function faceName(derived: Derived, id: FaceId): string {
  const found = findFace(derived, id);
  if (!found) return 'A wall no longer there';
  return `${wallTitle(found.fabric, found.face)}, ${roomTitle(found.fabric, found.face)}`;
}

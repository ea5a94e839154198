import { TABLE_NAMES, find } from '../engine/model/tables.ts';
import type { PlanDocument } from '../engine/model/document.ts';
import type { Stage } from '../engine/checks/types.ts';
import type { PlanLook } from '../tools/app.ts';
import type { Ref, SessionState } from '../tools/types.ts';
import { STAGES } from './stageInfo.ts';

/** Which revisions are in a file of the person's or are an untouched sample; null for none. */
export interface Marks {
  readonly inFile: number | null;
  readonly sample: number | null;
}

/** Where the person was, as it is kept on the device beside the plan. */
export interface KeptSession extends Marks {
  /** The plan of the list of kept plans that is open. */
  readonly plan: string | null;
  readonly stage: Stage;
  readonly storey: string;
  readonly room: string | null;
  readonly face: string | null;
  readonly selection: readonly Ref[];
  readonly choices: SessionState['choices'];
  readonly showZones: boolean;
  readonly snapping: boolean;
  /** Where the plan camera looked. */
  readonly look: PlanLook | null;
}

/** The part of a session worth coming back to. Tools and gestures are not: a page opens with the select tool. */
export function sessionToKeep(
  state: SessionState,
  marks: Marks,
  look: PlanLook | null,
  plan: string | null,
): KeptSession {
  const { stage, storey, room, face, selection, choices, showZones, snapping } = state;
  return { stage, storey, room, face, selection, choices, showZones, snapping, look, plan, ...marks };
}

type Bag = Readonly<Record<string, unknown>>;
const bag = (value: unknown): Bag =>
  typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Bag) : {};
const text = (value: unknown): string | null => (typeof value === 'string' ? value : null);
const whole = (value: unknown): number | null => (Number.isSafeInteger(value) ? (value as number) : null);

/** Revisions marked at the last visit; what is odd is forgotten. */
export function readMarks(value: unknown): Marks {
  const kept = bag(value);
  return { inFile: whole(kept['inFile']), sample: whole(kept['sample']) };
}

/** Which plan of the list was open at the last visit. */
export function readPlanId(value: unknown): string | null {
  return text(bag(value)['plan']);
}

/** Where the plan camera looked at the last visit; null when that cannot be told. */
export function readLook(value: unknown): PlanLook | null {
  const { x, y, scale } = bag(bag(value)['look']);
  const usable = (n: unknown): n is number =>
    typeof n === 'number' && Number.isFinite(n) && Math.abs(n) < 1e9;
  return usable(x) && usable(y) && usable(scale) && scale > 0 ? { x, y, scale } : null;
}

/** What still makes sense of a kept session for this document; what is odd is left at its start. */
export function readSession(value: unknown, doc: PlanDocument, start: SessionState): SessionState {
  const kept = bag(value);
  const choices = bag(kept['choices']);
  const stage = STAGES.find((info) => info.stage === kept['stage'])?.stage ?? start.stage;
  const storey = text(kept['storey']);
  const refs = Array.isArray(kept['selection']) ? (kept['selection'] as unknown[]).map(readRef) : [];
  const id = (
    table: 'buildUps' | 'circuits' | 'cables',
    key: string,
    otherwise: string | null,
  ): string | null => {
    const chosen = text(choices[key]);
    return find(doc, table, chosen) ? chosen : otherwise;
  };
  return {
    ...start,
    stage,
    storey: storey !== null && doc.storeys.byId[storey] ? storey : start.storey,
    room: text(kept['room']),
    face: text(kept['face']),
    selection: refs.filter((ref): ref is Ref => ref !== null && find(doc, ref.table, ref.id) !== undefined),
    choices: {
      ...start.choices,
      buildUp: id('buildUps', 'buildUp', start.choices.buildUp),
      circuit: id('circuits', 'circuit', start.choices.circuit),
      cable: id('cables', 'cable', null),
      gangs: choices['gangs'] === 1 ? 1 : 2,
      void: choices['void'] === 'floor' ? 'floor' : 'ceiling',
    },
    showZones: kept['showZones'] !== false,
    snapping: kept['snapping'] !== false,
  };
}

function readRef(value: unknown): Ref | null {
  const ref = bag(value);
  const table = TABLE_NAMES.find((name) => name === ref['table']);
  const id = text(ref['id']);
  return table === undefined || id === null ? null : { table, id, part: text(ref['part']) };
}

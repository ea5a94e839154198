import type { PlanDocument, TableName } from '../engine/model/document.ts';
import { find } from '../engine/model/tables.ts';
import type { PlanLook, Session, ShowTarget, Viewer } from './app.ts';
import type { Ref, SessionState } from './types.ts';

/** The state a plan is opened with: first storey, first build-up, nothing selected. */
export function startSession(doc: PlanDocument): SessionState {
  return {
    stage: 'drawing',
    tool: 'select',
    storey: doc.storeys.order[0] ?? '',
    selection: [],
    hover: null,
    room: null,
    face: null,
    lit: new Set(),
    choices: {
      buildUp: doc.buildUps.order[0] ?? null,
      opening: 'door',
      pointKind: 'socket',
      gangs: 2,
      pointHeight: null,
      circuit: doc.circuits.order[0] ?? null,
      cable: doc.circuits.order[0] ? (doc.circuits.byId[doc.circuits.order[0]]?.cable ?? null) : null,
      void: 'ceiling',
      thing: 'no-cable',
    },
    hint: '',
    notice: null,
    showZones: true,
    snapping: true,
    panel: null,
    proposal: null,
  };
}

/** An observable session. Setting values that are already there tells nobody. */
export function createSession(initial: SessionState): Session {
  let state = initial;
  const listeners = new Set<(state: SessionState) => void>();
  return {
    getState: () => state,
    set(patch) {
      const changed = (Object.keys(patch) as (keyof SessionState)[]).some(
        (key) => !Object.is(patch[key], state[key]),
      );
      if (!changed) return;
      state = { ...state, ...patch };
      for (const listener of [...listeners]) listener(state);
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** Forgets what no longer stands in the document: selection, hover, storey and the choices of the tools. */
export function pruneSession(state: SessionState, doc: PlanDocument): Partial<SessionState> {
  const stands = (table: TableName, id: string | null): boolean => find(doc, table, id) !== undefined;
  const patch: { -readonly [K in keyof SessionState]?: SessionState[K] } = {};
  const selection = state.selection.filter((ref: Ref) => stands(ref.table, ref.id));
  if (selection.length !== state.selection.length) patch.selection = selection;
  if (state.hover && !stands(state.hover.table, state.hover.id)) patch.hover = null;
  if (state.proposal && !stands('storeys', state.proposal.storey)) patch.proposal = null;
  if (!stands('storeys', state.storey)) patch.storey = doc.storeys.order[0] ?? '';
  const { circuit, cable, buildUp } = state.choices;
  const choices = {
    ...state.choices,
    circuit: stands('circuits', circuit) ? circuit : (doc.circuits.order[0] ?? null),
    cable: stands('cables', cable) ? cable : null,
    buildUp: stands('buildUps', buildUp) ? buildUp : (doc.buildUps.order[0] ?? null),
  };
  if (choices.circuit !== circuit || choices.cable !== cable || choices.buildUp !== buildUp)
    patch.choices = choices;
  return patch;
}

/** Passes wishes to see a place on to whichever views are mounted. */
export function createViewer(): Viewer {
  const listeners = new Set<(target: ShowTarget) => void>();
  let last: PlanLook | null = null;
  return {
    look: () => last,
    moved(look) {
      last = look;
    },
    show(target) {
      for (const listener of [...listeners]) listener(target);
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

import { createContext, useContext, useSyncExternalStore } from 'react';
import type { Program } from '../../app/program.ts';
import type { Derived } from '../../engine/derive/types.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import type { SessionState } from '../../tools/types.ts';

export const ProgramContext = createContext<Program | null>(null);

/** The program of this page; throws outside of it. */
export function useProgram(): Program {
  const program = useContext(ProgramContext);
  if (!program) throw new Error('a panel stands outside the program');
  return program;
}

/** A value of the session; the selector must give back the same reference while nothing it reads has changed. */
export function useSession<T>(select: (state: SessionState) => T): T {
  const { session } = useProgram();
  return useSyncExternalStore(session.subscribe, () => select(session.getState()));
}

/** A value of the document's state. */
export function useStore<T>(select: (state: ReturnType<Program['store']['getState']>) => T): T {
  const { store } = useProgram();
  return useSyncExternalStore(store.subscribe, () => select(store.getState()));
}

export const useDoc = (): PlanDocument => useStore((state) => state.doc);

/** The latest derivation. */
export function useDerived(): Derived {
  const { derived } = useProgram();
  return useSyncExternalStore(derived.subscribe, () => derived.get().derived);
}

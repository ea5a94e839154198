import { useEffect, useState, useSyncExternalStore } from 'react';
import { factsOfCircuit, type CircuitFacts } from '../../engine/electrical/facts.ts';
import type { ElectricalInput } from '../../engine/electrical/net.ts';
import type { Id } from '../../engine/model/document.ts';
import { followInput, workAll } from '../../app/circuitInput.ts';
import { whenIdle } from '../../app/later.ts';
import { useProgram } from '../ui/hooks.ts';

/** The pair circuits are worked out from; its readings may be older than those of the plan. */
export function useElectricalInput(): ElectricalInput | null {
  const follower = followInput(useProgram());
  return useSyncExternalStore(follower.subscribe, follower.get);
}

/** A circuit's facts with the input they came from. */
export interface Worked {
  readonly input: ElectricalInput;
  readonly facts: CircuitFacts;
}

/**
 * The facts of one circuit, worked out once the page has nothing more pressing to do. Until then the facts of before
 * the change stand; null at first, and for a circuit that is gone.
 */
export function useFacts(circuit: Id): Worked | null {
  const input = useElectricalInput();
  const [worked, setWorked] = useState<Worked | null>(null);
  useEffect(() => {
    if (input === null) return;
    let left = false;
    void whenIdle().then(() => {
      const record = input.doc.circuits.byId[circuit];
      if (!left) setWorked(record === undefined ? null : { input, facts: factsOfCircuit(input, record) });
    });
    return () => {
      left = true;
    };
  }, [input, circuit]);
  return worked !== null && worked.facts.circuit.id === circuit ? worked : null;
}

/** An input all of whose circuits are worked out, or how far that is. For sheets about the whole plan. */
export function useAllFacts(): { readonly input: ElectricalInput | null; readonly share: number } {
  const input = useElectricalInput();
  const [ready, setReady] = useState<ElectricalInput | null>(null);
  const [share, setShare] = useState(0);
  useEffect(() => {
    if (input === null) return;
    let left = false;
    void workAll(input, () => left, setShare).then((done) => {
      if (done) setReady(input);
    });
    return () => {
      left = true;
    };
  }, [input]);
  return { input: ready, share };
}

import { useEffect, useState, useSyncExternalStore } from 'react';
import { factsOfCircuit, type CircuitFacts } from '../../engine/electrical/facts.ts';
import type { ElectricalInput } from '../../engine/electrical/net.ts';
import { electricalInput } from '../../engine/circuitReport/report.ts';
import type { Id, PlanDocument } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { whenIdle } from '../later.ts';
import { useProgram, type Program } from '../program.ts';

/** Tables that no circuit depends on: writing a reading down does not work everything out again. */
const ASIDE: ReadonlySet<keyof PlanDocument> = new Set(['readings', 'acceptances', 'tracings']);

function sameForCircuits(a: PlanDocument, b: PlanDocument): boolean {
  return (Object.keys(b) as (keyof PlanDocument)[]).every((key) => ASIDE.has(key) || a[key] === b[key]);
}

interface Follower {
  get(): ElectricalInput | null;
  subscribe(listener: () => void): () => void;
}

const followers = new WeakMap<Program, Follower>();

/**
 * What circuits are worked out from: the plan together with what was derived of that very revision. While the worker
 * is behind, the last pair that belonged together stands; null before the first one of a plan.
 */
function followInput(program: Program): Follower {
  const known = followers.get(program);
  if (known !== undefined) return known;
  let last: ElectricalInput | null = null;
  program.store.subscribe((_, touched) => {
    if (touched === 'all') last = null;
  });
  const follower: Follower = {
    get() {
      const { doc, rev } = program.store.getState();
      const { derived, rev: of } = program.derived.get();
      if (of !== rev) return last;
      const same =
        last !== null &&
        last.fabrics === derived.fabrics &&
        last.checks === derived.runs &&
        sameForCircuits(last.doc, doc);
      if (!same) last = electricalInput(doc, derived);
      return last;
    },
    subscribe(listener) {
      const leave = [program.store.subscribe(listener), program.derived.subscribe(listener)];
      return () => leave.forEach((each) => each());
    },
  };
  followers.set(program, follower);
  return follower;
}

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

/** How long one slice of work may take before the page gets a turn, ms. */
const SLICE = 12;

/** Works out all circuits of an input, a slice at a time; false when it was stopped before the end. */
async function workAll(
  input: ElectricalInput,
  stopped: () => boolean,
  told: (share: number) => void,
): Promise<boolean> {
  const circuits = rows(input.doc.circuits);
  let since = performance.now();
  for (const [i, circuit] of circuits.entries()) {
    factsOfCircuit(input, circuit);
    if (performance.now() - since < SLICE) continue;
    told((i + 1) / circuits.length);
    await new Promise((resolve) => setTimeout(resolve, 0));
    if (stopped()) return false;
    since = performance.now();
  }
  return !stopped();
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

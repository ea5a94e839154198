import { factsOfCircuit } from '../engine/electrical/facts.ts';
import type { ElectricalInput } from '../engine/electrical/net.ts';
import { electricalInput } from '../engine/circuitReport/report.ts';
import type { PlanDocument } from '../engine/model/document.ts';
import { RECORDS } from '../engine/model/records.ts';
import { rows, TABLE_NAMES } from '../engine/model/tables.ts';
import type { App } from '../tools/app.ts';

/** Tables that no circuit depends on: writing a reading down does not work everything out again. */
const ASIDE: ReadonlySet<keyof PlanDocument> = new Set(
  TABLE_NAMES.filter((name) => RECORDS[name].decides === 'neither'),
);

function sameForCircuits(a: PlanDocument, b: PlanDocument): boolean {
  return (Object.keys(b) as (keyof PlanDocument)[]).every((key) => ASIDE.has(key) || a[key] === b[key]);
}

interface Follower {
  get(): ElectricalInput | null;
  subscribe(listener: () => void): () => void;
}

const followers = new WeakMap<App, Follower>();

/**
 * What circuits are worked out from: the plan together with what was derived of that very revision. While the worker
 * is behind, the last pair that belonged together stands; null before the first one of a plan.
 */
export function followInput(program: App): Follower {
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

/** How long one slice of work may take before the page gets a turn, ms. */
const SLICE = 12;

/** Works out all circuits of an input, a slice at a time; false when it was stopped before the end. */
export async function workAll(
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

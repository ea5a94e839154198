import type { Replaces } from '../../engine/routing/types.ts';
import { useMemo, useState, type ReactNode } from 'react';
import { editCircuit } from '../../document/commands/circuits.ts';
import type { Circuit, Id } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { isReplaceable } from '../../engine/routing/trial.ts';
import { CheckField, SelectField } from '../ui/fields.tsx';
import { circuitName } from '../ui/names.ts';
import { NONE } from '../ui/options.ts';
import { perform } from '../../app/program.ts';
import { useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { PinnedPoints } from './PinnedPoints.tsx';
import { useSuggest } from '../ui/useSuggest.ts';
import { WaysTable } from './WaysTable.tsx';

/** One circuit by each way the building allows, side by side, and the one it keeps to. */
export function WaysOfCircuit(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const choices = useSession((s) => s.choices);
  const ways = useSuggest((state) => state.ways);
  const [keep, setKeep] = useState<{ readonly circuit: string; readonly keep: boolean } | null>(null);
  const withPoints = useMemo(() => {
    const used = new Set(rows(doc.points).map((p) => p.circuit));
    return rows(doc.circuits).filter((c) => used.has(c.id));
  }, [doc]);
  const circuit = withPoints.find((c) => c.id === choices.circuit) ?? withPoints[0];
  if (!circuit)
    return <p className="quiet">Put points on a circuit, and the ways to wire it are compared here.</p>;

  const own = rows(doc.runs).filter((run) => run.circuit === circuit.id);
  const drawn = own.filter((run) => !isReplaceable(run) && isReplaceable(run, 'drawn')).length;
  const joined = new Set(own.filter((run) => !isReplaceable(run)).flatMap((run) => [run.from, run.to]));
  const allDrawn = rows(doc.points).every((p) => p.circuit !== circuit.id || joined.has(p.id));
  // With every point joined by hand, keeping those runs would leave nothing to compare.
  const kept = keep?.circuit === circuit.id ? keep.keep : !allDrawn;
  const replaces: Replaces = kept ? 'suggested' : 'drawn';
  return (
    <section aria-label="Compare ways">
      <SelectField
        label="Circuit"
        value={circuit.id}
        options={withPoints.map((each) => ({ value: each.id, text: circuitName(each) }))}
        onCommit={(id) => program.session.set({ choices: { ...choices, circuit: id } })}
      />
      {drawn > 0 && (
        <CheckField
          label={`Keep the ${drawn} ${drawn === 1 ? 'run' : 'runs'} drawn by hand`}
          value={kept}
          help={
            kept ? undefined : 'Taking a way puts it in their place; undo brings them back. Locked runs stay.'
          }
          onCommit={(next) => setKeep({ circuit: circuit.id, keep: next })}
        />
      )}
      <CompareButton circuit={circuit.id} replaces={replaces} />
      {ways !== null && ways.circuit === circuit.id && (
        <WaysTable key={circuit.id} circuit={circuit} compared={ways} drawn={drawn} />
      )}
      <details>
        <summary>
          <h4>How {circuit.label} is to be routed</h4>
        </summary>
        <OwnWay circuit={circuit} />
        <PinnedPoints circuit={circuit} />
      </details>
    </section>
  );
}

/** Apart from the long list of circuits, so that being busy redraws no more than this. */
function CompareButton(props: { readonly circuit: Id; readonly replaces: Replaces }): ReactNode {
  const { suggestions } = useProgram();
  const busy = useSuggest((state) => state.busy);
  return (
    <div className="row">
      <button
        className="button"
        type="button"
        disabled={busy !== null}
        onClick={() => suggestions.compare(props.circuit, props.replaces)}
      >
        Compare ways
      </button>
      {busy === 'compare' && (
        <>
          <span role="status">Looking …</span>
          <button className="button" type="button" onClick={() => suggestions.cancel()}>
            Cancel
          </button>
        </>
      )}
    </div>
  );
}

/** The way suggestions for this circuit keep to. */
function OwnWay(props: { readonly circuit: Circuit }): ReactNode {
  const program = useProgram();
  const { circuit } = props;
  return (
    <SelectField<NonNullable<Circuit['way']> | typeof NONE>
      label="Suggestions keep to"
      value={circuit.way ?? NONE}
      options={[
        { value: NONE, text: 'The best mix' },
        { value: 'ceiling', text: 'Over the ceiling' },
        { value: 'walls', text: 'Along the walls' },
        { value: 'floor', text: 'Under the floor' },
      ]}
      help="For “Lay what is left”, for single runs, and for runs that follow a change."
      onCommit={(way) => void perform(program, editCircuit(circuit.id, { way: way === NONE ? null : way }))}
    />
  );
}

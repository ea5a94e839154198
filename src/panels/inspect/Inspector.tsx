import { Suspense, type ReactNode } from 'react';
import { RECORDS } from '../../engine/model/records.ts';
import { find } from '../../engine/model/tables.ts';
import type { Ref } from '../../tools/types.ts';
import { removeSelected } from '../../app/removing.ts';
import { circuitName, pointName } from '../ui/names.ts';
import { useDoc, useProgram, useSession } from '../ui/hooks.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import { lazily } from '../ui/lazily.tsx';

const RecordFields = lazily(
  () => import('./RecordFields.tsx'),
  (m) => m.RecordFields,
);

/** The selected record's fields, every one of them to be edited in place. */
export function Inspector(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const selection = useSession((state) => state.selection);
  const standing = selection.filter((ref) => find(doc, ref.table, ref.id) !== undefined);
  return (
    <section aria-labelledby="inspector-title">
      <div className="panel-head">
        <h2 id="inspector-title">{titleOf(doc, standing)}</h2>
      </div>
      {standing.length === 0 ? (
        <p className="quiet">Nothing selected. Pick something on the plan, on a wall or in a list.</p>
      ) : (
        <div className="fields">
          <Suspense fallback={null}>
            <RecordFields doc={doc} refs={standing} />
          </Suspense>
          <button type="button" className="button remove" onClick={() => void removeSelected(program)}>
            Remove {standing.length > 1 ? `these ${standing.length}` : 'from the plan'}
          </button>
        </div>
      )}
    </section>
  );
}

function titleOf(doc: PlanDocument, refs: readonly Ref[]): string {
  const [first] = refs;
  if (!first) return 'Selected';
  if (refs.length > 1) {
    const word = refs.every((ref) => ref.table === first.table) ? RECORDS[first.table].many : 'things';
    return `${refs.length} ${word}`;
  }
  const point = find(doc, 'points', first.table === 'points' ? first.id : null);
  if (point) return pointName(point);
  if (first.table === 'circuits') return circuitName(doc.circuits.byId[first.id]);
  if (first.table === 'runs') return `Run ${doc.runs.byId[first.id]?.label ?? ''}`;
  const { one } = RECORDS[first.table];
  return `${one.charAt(0).toUpperCase()}${one.slice(1)}${first.table === 'walls' ? ` ${first.id}` : ''}`;
}

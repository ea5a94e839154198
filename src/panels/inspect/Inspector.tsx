import type { ReactNode } from 'react';
import { find } from '../../engine/model/tables.ts';
import type { Ref } from '../../tools/types.ts';
import { deleteSelection } from '../edits.ts';
import { circuitName, pointName } from '../names.ts';
import { perform, useDoc, useProgram, useSession } from '../program.ts';
import { CircuitFields } from './CircuitFields.tsx';
import { NodeFields, OpeningFields, RoomTagFields, ThingFields, WallFields } from './FabricFields.tsx';
import { PointFields, PointsFields } from './PointFields.tsx';
import { RunsFields } from './RunsFields.tsx';
import { RunFields } from './RunFields.tsx';
import { UnderlayFields } from './UnderlayFields.tsx';
import type { PlanDocument } from '../../engine/model/document.ts';

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
          <Fields doc={doc} refs={standing} />
          <button
            type="button"
            className="remove"
            onClick={() => {
              if (perform(program, deleteSelection(standing)).ok) program.session.set({ selection: [] });
            }}
          >
            Remove {standing.length > 1 ? `these ${standing.length}` : 'from the plan'}
          </button>
        </div>
      )}
    </section>
  );
}

function Fields(props: { readonly doc: PlanDocument; readonly refs: readonly Ref[] }): ReactNode {
  const { doc, refs } = props;
  const first = refs[0];
  if (!first) return null;
  if (refs.some((ref) => ref.table !== first.table))
    return <p className="quiet">Several kinds of thing are selected.</p>;
  const all = <T,>(read: (id: string) => T | undefined): T[] =>
    [...new Set(refs.map((ref) => ref.id))].map(read).filter((each): each is T => each !== undefined);
  switch (first.table) {
    case 'points': {
      const points = all((id) => doc.points.byId[id]);
      return points.length === 1 && points[0] ? (
        <PointFields key={first.id} point={points[0]} />
      ) : (
        <PointsFields points={points} />
      );
    }
    case 'runs': {
      const runs = all((id) => doc.runs.byId[id]);
      return runs.length === 1 && runs[0] ? (
        <RunFields key={first.id} run={runs[0]} part={first.part} />
      ) : (
        <RunsFields runs={runs} />
      );
    }
    case 'walls':
      return <WallFields key={first.id} walls={all((id) => doc.walls.byId[id])} />;
    case 'circuits': {
      const circuit = doc.circuits.byId[first.id];
      return circuit && <CircuitFields key={circuit.id} circuit={circuit} />;
    }
    default:
      return refs.length === 1 ? <One doc={doc} at={first} /> : null;
  }
}

function One(props: { readonly doc: PlanDocument; readonly at: Ref }): ReactNode {
  const { doc, at } = props;
  const node = at.table === 'nodes' ? doc.nodes.byId[at.id] : undefined;
  const opening = at.table === 'openings' ? doc.openings.byId[at.id] : undefined;
  const tag = at.table === 'roomTags' ? doc.roomTags.byId[at.id] : undefined;
  const thing = at.table === 'things' ? doc.things.byId[at.id] : undefined;
  const underlay = at.table === 'underlays' ? doc.underlays.byId[at.id] : undefined;
  if (node) return <NodeFields key={at.id} node={node} />;
  if (opening) return <OpeningFields key={at.id} opening={opening} />;
  if (tag) return <RoomTagFields key={at.id} tag={tag} />;
  if (thing) return <ThingFields key={at.id} thing={thing} />;
  if (underlay) return <UnderlayFields key={at.id} underlay={underlay} />;
  return null;
}

const WORDS: Partial<Record<Ref['table'], readonly [string, string]>> = {
  walls: ['Wall', 'walls'],
  nodes: ['Corner of walls', 'corners'],
  openings: ['Opening', 'openings'],
  roomTags: ['Room', 'rooms'],
  things: ['Thing', 'things'],
  points: ['Point', 'points'],
  circuits: ['Circuit', 'circuits'],
  runs: ['Run', 'runs'],
  underlays: ['Picture', 'pictures'],
};

function titleOf(doc: PlanDocument, refs: readonly Ref[]): string {
  const [first] = refs;
  if (!first) return 'Selected';
  if (refs.length > 1) {
    const word = refs.every((ref) => ref.table === first.table) ? WORDS[first.table]?.[1] : undefined;
    return `${refs.length} ${word ?? 'things'}`;
  }
  const point = find(doc, 'points', first.table === 'points' ? first.id : null);
  if (point) return pointName(point);
  if (first.table === 'circuits') return circuitName(doc.circuits.byId[first.id]);
  if (first.table === 'runs') return `Run ${doc.runs.byId[first.id]?.label ?? ''}`;
  return `${WORDS[first.table]?.[0] ?? 'Record'}${first.table === 'walls' ? ` ${first.id}` : ''}`;
}

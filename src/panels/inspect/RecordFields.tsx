import type { ReactNode } from 'react';
import type { PlanDocument } from '../../engine/model/document.ts';
import type { Ref } from '../../tools/types.ts';
import { useSession } from '../ui/hooks.ts';
import { CircuitFields } from '../circuits/CircuitFields.tsx';
import {
  NodeFields,
  OpeningFields,
  RoomTagFields,
  ThingFields,
  WallFields,
} from '../fabric/FabricFields.tsx';
import { PointFields, PointsFields } from '../points/PointFields.tsx';
import { RunFields } from '../runs/RunFields.tsx';
import { RunsFields } from '../runs/RunsFields.tsx';
import { TracingFields } from '../drawing/TracingFields.tsx';

/** The fields of what is selected, when it is one kind of record. */
export function RecordFields(props: {
  readonly doc: PlanDocument;
  readonly refs: readonly Ref[];
}): ReactNode {
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
  const drawing = useSession((state) => state.stage === 'drawing');
  const node = at.table === 'nodes' ? doc.nodes.byId[at.id] : undefined;
  const opening = at.table === 'openings' ? doc.openings.byId[at.id] : undefined;
  const tag = at.table === 'roomTags' ? doc.roomTags.byId[at.id] : undefined;
  const thing = at.table === 'things' ? doc.things.byId[at.id] : undefined;
  const tracing = at.table === 'tracings' ? doc.tracings.byId[at.id] : undefined;
  if (node) return <NodeFields key={at.id} node={node} />;
  if (opening) return <OpeningFields key={at.id} opening={opening} />;
  if (tag) return <RoomTagFields key={at.id} tag={tag} />;
  if (thing) return <ThingFields key={at.id} thing={thing} />;
  if (tracing && drawing) return <p className="quiet">Its settings stand under Drawing.</p>;
  if (tracing) return <TracingFields key={at.id} tracing={tracing} />;
  return null;
}

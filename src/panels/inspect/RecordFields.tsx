import type { ReactNode } from 'react';
import type { PlanDocument, TableName, Tables } from '../../engine/model/document.ts';
import type { Tracing } from '../../engine/model/tracing.ts';
import { find } from '../../engine/model/tables.ts';
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

type Fields<T> = (records: readonly T[], part: string | null) => ReactNode;

/** Fields for one record alone; several of its kind have none in common. */
const alone =
  <T,>(fields: (record: T) => ReactNode): Fields<T> =>
  (records) =>
    records.length === 1 && records[0] ? fields(records[0]) : null;

/** What is edited elsewhere (in lists, or with its storey) has no fields here. */
const elsewhere = (): ReactNode => null;

/** The fields of each kind of record. The compiler asks for every table. */
const FIELDS: { readonly [K in TableName]: Fields<Tables[K]> } = {
  storeys: elsewhere,
  tracings: alone((tracing) => <TracingHere key={tracing.id} tracing={tracing} />),
  buildUps: elsewhere,
  nodes: alone((node) => <NodeFields key={node.id} node={node} />),
  walls: (walls) => <WallFields key={walls[0]?.id} walls={walls} />,
  openings: alone((opening) => <OpeningFields key={opening.id} opening={opening} />),
  roomTags: alone((tag) => <RoomTagFields key={tag.id} tag={tag} />),
  things: alone((thing) => <ThingFields key={thing.id} thing={thing} />),
  points: (points) =>
    points.length === 1 && points[0] ? (
      <PointFields key={points[0].id} point={points[0]} />
    ) : (
      <PointsFields points={points} />
    ),
  circuits: ([circuit]) => circuit && <CircuitFields key={circuit.id} circuit={circuit} />,
  runs: (runs, part) =>
    runs.length === 1 && runs[0] ? (
      <RunFields key={runs[0].id} run={runs[0]} part={part} />
    ) : (
      <RunsFields runs={runs} />
    ),
  cables: elsewhere,
  boxes: elsewhere,
  acceptances: elsewhere,
  readings: elsewhere,
};

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
  const records = [...new Set(refs.map((ref) => ref.id))]
    .map((id) => find(doc, first.table, id))
    .filter((each) => each !== undefined);
  return (FIELDS[first.table] as Fields<unknown>)(records, first.part);
}

function TracingHere(props: { readonly tracing: Tracing }): ReactNode {
  const drawing = useSession((state) => state.stage === 'drawing');
  if (drawing) return <p className="quiet">Its settings stand under Drawing.</p>;
  return <TracingFields tracing={props.tracing} />;
}

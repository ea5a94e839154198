import type { Fabric } from '../fabric/types.ts';
import { ask, type Derivation } from '../memo/derivation.ts';
import type { Graph } from '../memo/graph.ts';
import type { Id, PlanDocument, TableName } from '../model/document.ts';
import { EDITIONS } from '../zones/editions.ts';
import type { Lookup } from '../zones/surfaces.ts';
import { ReadFabric, ReadMap } from './readFabric.ts';
import { Relation, type Keys } from './relation.ts';
import {
  CHECK,
  FABRIC,
  IS_STOREY,
  LENGTH,
  POINTS_OF_CIRCUIT,
  POINTS_ON_FACE,
  RESOLVED,
  RUNS_AT_POINT,
  RUNS_IN_SQUARE,
  RUNS_OF_CIRCUIT,
  RUNS_ON_FACE,
  SPOT,
  ZONES,
  type Workings,
} from './workings.ts';

/** A storey that is going: nothing stands on it any more. */
const bare = (storey: Id): Fabric => ({ storey, faces: new Map(), rooms: new Map(), outside: [] });

/** Fabrics by storey, each of which notes what of it is read. */
function fabricsOf(graph: Graph, ctx: Workings): ReadonlyMap<Id, Fabric> {
  const made = new Map<Id, ReadFabric>();
  const one = (storey: Id): Fabric | undefined => {
    if (!ask(ctx.doc, IS_STOREY, storey)) return undefined;
    let fabric = made.get(storey);
    if (fabric === undefined) {
      fabric = new ReadFabric(graph, storey, () => ask(ctx, FABRIC, storey) ?? bare(storey));
      made.set(storey, fabric);
    }
    return fabric;
  };
  return new ReadMap(one, () => new Map(ctx.doc.storeys.order.map((id) => [id, one(id) as Fabric])));
}

/** What may be looked up while a plan is worked out, each look noted by `graph`. */
export interface Context {
  readonly ctx: Workings;
  /** Ids by keys, by the table the ids are of. */
  readonly relations: readonly { readonly of: TableName; readonly by: Relation<Workings> }[];
}

/** `doc` is followed by the graph; `ids` gives the ids there are in a table now. */
export function contextOf(graph: Graph, doc: PlanDocument, ids: (table: TableName) => Iterable<Id>): Context {
  const relations: { of: TableName; by: Relation<Workings> }[] = [];
  const by = (of: TableName, keys: Keys<Workings>): Relation<Workings> => {
    const relation = new Relation<Workings>(
      graph,
      () => ctx,
      keys,
      () => ids(of),
    );
    relations.push({ of, by: relation });
    return relation;
  };
  const each = <V>(what: Derivation<Workings, V | undefined>): Lookup<string, V> => ({
    get: (key) => ask(ctx, what, key),
  });
  const ctx: Workings = graph.follow({
    doc,
    get rules() {
      return EDITIONS[doc.job.edition];
    },
    get fabrics() {
      return fabrics;
    },
    zones: each(ZONES),
    resolved: each(RESOLVED),
    checks: each(CHECK),
    lengths: each(LENGTH),
    spots: each(SPOT),
    facePoints: by('points', POINTS_ON_FACE),
    faceRuns: by('runs', RUNS_ON_FACE),
    pointRuns: by('runs', RUNS_AT_POINT),
    circuitRuns: by('runs', RUNS_OF_CIRCUIT),
    circuitPoints: by('points', POINTS_OF_CIRCUIT),
    squareRuns: by('runs', RUNS_IN_SQUARE),
  });
  const fabrics = fabricsOf(graph, ctx);
  return { ctx, relations };
}

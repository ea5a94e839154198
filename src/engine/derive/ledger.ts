import type { Finding } from '../checks/types.ts';
import type { Fabric, FaceId } from '../fabric/types.ts';
import type { Derivation } from '../memo/derivation.ts';
import { Graph } from '../memo/graph.ts';
import type { Id, PlanDocument, TableName } from '../model/document.ts';
import { TABLE_NAMES, tableOf } from '../model/tables.ts';
import type { RunLength } from '../takeoff/types.ts';
import type { RunCheck, Zone } from '../zones/types.ts';
import { subjectOf, type BucketKey } from './buckets.ts';
import { contextOf, type Context } from './context.ts';
import type { Tell } from './part.ts';
import { ReadPlan } from './readPlan.ts';
import type { Touched } from './types.ts';
import { BUCKET, CHECK, FABRIC, LENGTH, ZONES, type Workings } from './workings.ts';

/** What came out different, by key: undefined where there is nothing any more. */
export interface News {
  readonly fabrics: Map<Id, Fabric | undefined>;
  readonly zones: Map<FaceId, readonly Zone[] | undefined>;
  readonly runs: Map<Id, RunCheck | undefined>;
  readonly lengths: Map<Id, RunLength | undefined>;
  readonly buckets: Map<BucketKey, readonly Finding[] | undefined>;
}

const noNews = (): News => ({
  fabrics: new Map(),
  zones: new Map(),
  runs: new Map(),
  lengths: new Map(),
  buckets: new Map(),
});

/** What is handed out of the ledger: each is kept whether anything reads it or not. */
const HANDED_OUT = { fabrics: FABRIC, zones: ZONES, runs: CHECK, lengths: LENGTH, buckets: BUCKET } as const;

type Handed = readonly [part: keyof News, key: string];

/** What is handed out because a record is there. */
const OF_RECORD: Readonly<Partial<Record<TableName, (id: Id) => readonly Handed[]>>> = {
  tracings: (id) => [['buckets', `tracing ${id}`]],
  storeys: (id) => [
    ['fabrics', id],
    ['buckets', `storey ${id}`],
  ],
  points: (id) => [['buckets', `point ${id}`]],
  circuits: (id) => [['buckets', `circuit ${id}`]],
  runs: (id) => [
    ['runs', id],
    ['lengths', id],
    ['buckets', `run ${id}`],
  ],
};

const OF_FACE = (id: FaceId): readonly Handed[] => [
  ['zones', id],
  ['buckets', `face ${id}`],
];

type Entry = readonly [table: TableName, id: Id];

/** Records named that are in one plan and not in the other. */
function onlyIn(doc: PlanDocument, other: PlanDocument, touched: Touched): Entry[] {
  return TABLE_NAMES.flatMap((table) => {
    const [here, there] = [tableOf(doc, table).byId, tableOf(other, table).byId];
    return [...(touched[table] ?? [])].flatMap((id): Entry[] =>
      Object.hasOwn(here, id) && !Object.hasOwn(there, id) ? [[table, id]] : [],
    );
  });
}

/** Everything worked out of a plan, and who read what of it. Goes from one plan to the next. */
export class Ledger {
  /** Counts the plans it has gone on to. */
  revision = 0;
  /** What came out different since it was last asked. */
  private news = noNews();
  private readonly graph = new Graph();
  private readonly plan: ReadPlan;
  private readonly context: Context;
  private doc: PlanDocument;
  private facesCame: FaceId[] = [];
  private facesWent: FaceId[] = [];

  constructor(doc: PlanDocument, tell?: Tell) {
    this.doc = doc;
    this.hear(tell);
    this.plan = new ReadPlan(this.graph, doc);
    this.context = contextOf(this.graph, this.plan.view, (table) => tableOf(this.doc, table).order);
    for (const table of TABLE_NAMES) for (const id of tableOf(doc, table).order) this.handOut(table, id);
    this.settle();
  }

  /** Goes on to another plan; `touched` names every record that differs. */
  follow(doc: PlanDocument, touched: Touched, tell?: Tell): void {
    this.revision++;
    this.hear(tell);
    const [came, went] = [onlyIn(doc, this.doc, touched), onlyIn(this.doc, doc, touched)];
    this.doc = doc;
    this.plan.put(doc, touched);
    this.graph.settle();
    for (const [table, id] of came) {
      for (const { of, by } of this.context.relations) if (of === table) by.add(id);
      this.handOut(table, id);
    }
    this.settle();
    for (const [table, id] of went) {
      for (const handed of OF_RECORD[table]?.(id) ?? []) this.letGo(handed);
      for (const { of, by } of this.context.relations) if (of === table) by.drop(id);
    }
    this.graph.settle();
  }

  /** What came out different since this was last asked. */
  takeNews(): News {
    const { news } = this;
    this.news = noNews();
    return news;
  }

  private hear(tell: Tell | undefined): void {
    this.graph.onWork =
      tell === undefined
        ? null
        : ({ what, key }) => {
            if (what === FABRIC) tell('storey', key);
            else if (what === CHECK) tell('run', key);
            else if (what === BUCKET) tell(...subjectOf(key as BucketKey));
          };
  }

  /** Faces come and go with the fabric they are of. */
  private settle(): void {
    this.graph.settle();
    for (const face of this.facesCame) for (const handed of OF_FACE(face)) this.hold(handed);
    this.graph.settle();
    // A wall that goes to another storey takes its faces with it: they go and come at once.
    const came = new Set(this.facesCame);
    const went = this.facesWent.filter((face) => !came.has(face));
    for (const face of went) for (const handed of OF_FACE(face)) this.letGo(handed);
    this.facesCame = [];
    this.facesWent = [];
  }

  private handOut(table: TableName, id: Id): void {
    for (const handed of OF_RECORD[table]?.(id) ?? []) this.hold(handed);
  }

  private cell([part, key]: Handed) {
    return this.graph.cell(this.context.ctx, HANDED_OUT[part] as Derivation<Workings, unknown>, key);
  }

  private hold(handed: Handed): void {
    const [part, key] = handed;
    const cell = this.cell(handed);
    this.graph.hold(cell, true);
    const tell = (now: unknown, before: unknown): void => {
      (this.news[part] as Map<string, unknown>).set(key, now);
      if (part === 'fabrics') this.compareFaces(before as Fabric | undefined, now as Fabric | undefined);
    };
    // It may be known already, to another that read it: told once, whether that is so or not.
    tell(this.graph.read(cell), undefined);
    cell.onChange = tell;
  }

  private letGo(handed: Handed): void {
    const cell = this.cell(handed);
    cell.onChange = null;
    this.graph.hold(cell, false);
  }

  private compareFaces(before: Fabric | undefined, now: Fabric | undefined): void {
    for (const id of now?.faces.keys() ?? []) if (!before?.faces.has(id)) this.facesCame.push(id);
    for (const id of before?.faces.keys() ?? []) if (!now?.faces.has(id)) this.facesWent.push(id);
  }
}

import type { Graph } from '../memo/graph.ts';
import type { Job, PlanDocument, PlanTables, Table, TableName } from '../model/document.ts';
import { TABLE_NAMES, tableOf } from '../model/tables.ts';
import { ReadFields, ReadTable } from './readTable.ts';
import type { Touched } from './types.ts';

/** The plan as those see it who derive from it: the same shape, and each read is noted. */
export class ReadPlan {
  readonly view: PlanDocument;
  private readonly tables: ReadonlyMap<TableName, ReadTable<unknown>>;
  private readonly job: ReadFields<unknown>;

  constructor(graph: Graph, doc: PlanDocument) {
    this.tables = new Map(
      TABLE_NAMES.map((name) => [name, new ReadTable<unknown>(graph, tableOf(doc, name) as Table<unknown>)]),
    );
    this.job = new ReadFields<unknown>(graph, doc.job as unknown as Record<string, unknown>);
    this.view = graph.follow(this.plan(doc));
  }

  /** Goes over to another plan; `touched` names every record that differs. */
  put(doc: PlanDocument, touched: Touched): void {
    for (const [name, table] of this.tables) {
      table.put(tableOf(doc, name) as Table<unknown>, touched[name] ?? []);
    }
    if (touched.job !== undefined) {
      this.job.put(doc.job as unknown as Record<string, unknown>, Object.keys(doc.job));
    }
  }

  private plan(doc: PlanDocument): PlanDocument {
    const tables = Object.fromEntries([...this.tables].map(([name, table]) => [name, table.view]));
    // Nothing is derived from the file's own fields or from the numbers given out.
    const { format, version } = doc;
    return {
      ...(tables as unknown as PlanTables),
      format,
      version,
      job: this.job.view as unknown as Job,
      counters: {},
    };
  }
}

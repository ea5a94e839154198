import { drawnCurves } from './curves.ts';
import type { Curve } from './curves.ts';
import { oldPolyline, readEntity } from './entities.ts';
import type { Entity } from './entities.ts';
import { numberOf, recordsOf, valueOf } from './groups.ts';
import type { DxfRecord } from './groups.ts';
import type { Block, DxfModel, Item } from './model.ts';
import { DXF_LIMITS, DxfRefused } from './types.ts';

interface Waiting {
  readonly into: Item[];
  readonly at: number;
  readonly entity: Extract<Entity, { kind: 'curve' }>;
}

/** Everything of a text that is understood, blocks still apart. Throws `DxfRefused` where a budget is spent. */
export function gathered(text: string): DxfModel {
  const reader = createReader();
  for (const { section, record } of recordsOf(text)) reader.take(section, record);
  return reader.done();
}

function createReader() {
  const blocks = new Map<string, Block>();
  const items: Item[] = [];
  const layers = new Map<string, { readonly shown: boolean }>();
  const leftOut = new Map<string, number>();
  const waiting: Waiting[] = [];
  let insUnits: number | null = null;
  let block: Block | null = null;
  let poly: { readonly head: DxfRecord; readonly vertices: DxfRecord[] } | null = null;
  let entities = 0;

  const leave = (what: string): void => void leftOut.set(what, (leftOut.get(what) ?? 0) + 1);
  const put = (entity: Entity): void => {
    const into = block ? block.items : items;
    if (entity.kind === 'left') leave(entity.what);
    else if (entity.kind === 'item') into.push(entity.item);
    else {
      // Its place is kept, so that the order of the file stays.
      waiting.push({ into, at: into.length, entity });
      into.push({ kind: 'path', layer: entity.layer, closed: false, vertices: new Float64Array(0) });
    }
  };
  const closePoly = (): void => {
    if (poly) put(oldPolyline(poly.head, poly.vertices));
    poly = null;
  };
  const entity = (record: DxfRecord): void => {
    if (++entities > DXF_LIMITS.entities)
      throw new DxfRefused(
        `The drawing holds more than ${DXF_LIMITS.entities.toLocaleString('en-GB')} things. Ask for one storey at a time.`,
      );
    if (poly && record.type === 'VERTEX') {
      poly.vertices.push(record);
      return;
    }
    closePoly();
    if (record.type === 'SEQEND') return;
    if (record.type === 'POLYLINE') poly = { head: record, vertices: [] };
    else put(readEntity(record));
  };
  const inBlocks = (record: DxfRecord): void => {
    if (record.type === 'BLOCK') {
      closePoly();
      block = {
        baseX: numberOf(valueOf(record, 10)) ?? 0,
        baseY: numberOf(valueOf(record, 20)) ?? 0,
        items: [],
      };
      blocks.set(valueOf(record, 2) ?? '', block);
    } else if (record.type === 'ENDBLK') {
      closePoly();
      block = null;
    } else if (block) entity(record);
  };
  const layer = (record: DxfRecord): void => {
    const flags = numberOf(valueOf(record, 70)) ?? 0;
    const colour = numberOf(valueOf(record, 62)) ?? 7;
    layers.set(valueOf(record, 2) ?? '0', { shown: (flags & 1) === 0 && colour >= 0 });
  };
  return {
    take(section: string, record: DxfRecord): void {
      if (section === 'ENTITIES') {
        block = null;
        entity(record);
      } else if (section === 'BLOCKS') inBlocks(record);
      else if (section === 'TABLES' && record.type === 'LAYER') layer(record);
      else if (section === 'HEADER') {
        const at = record.groups.findIndex((g) => g.code === 9 && g.value === '$INSUNITS');
        if (at >= 0) insUnits = numberOf(record.groups[at + 1]?.value);
      }
    },
    done(): DxfModel {
      closePoly();
      drawWaiting(waiting, leave);
      return { blocks, items, layers, insUnits, leftOut };
    },
  };
}

/** Draws the curves, all in one go, each into the place that was kept for it. */
function drawWaiting(waiting: readonly Waiting[], leave: (what: string) => void): void {
  const drawn = drawnCurves(waiting.map((w): Curve => w.entity.curve));
  for (const [i, { into, at, entity }] of waiting.entries()) {
    const vertices = drawn[i];
    if (!vertices) leave('curves that make no shape');
    else if (entity.mirrored)
      for (let k = 0; k < vertices.length; k += 2) vertices[k] = -(vertices[k] as number);
    into[at] = {
      kind: 'path',
      layer: entity.layer,
      closed: entity.closed,
      vertices: vertices ?? new Float64Array(0),
    };
  }
}

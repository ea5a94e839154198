import type { Block, DxfModel, Insert, Item, Path, TextItem } from './model.ts';
import { DXF_LIMITS, DxfRefused } from './types.ts';

/** (x, y) to (a x + c y + e, b x + d y + f). */
type Affine = readonly [number, number, number, number, number, number];
const STILL: Affine = [1, 0, 0, 1, 0, 0];

const after = (m: Affine, n: Affine): Affine => [
  m[0] * n[0] + m[2] * n[1],
  m[1] * n[0] + m[3] * n[1],
  m[0] * n[2] + m[2] * n[3],
  m[1] * n[2] + m[3] * n[3],
  m[0] * n[4] + m[2] * n[5] + m[4],
  m[1] * n[4] + m[3] * n[5] + m[5],
];

/** How a block lies when it is drawn: off its base point, scaled, turned, moved, and mirrored where seen from behind. */
function placed(insert: Insert, block: Block, row: number, column: number): Affine {
  const angle = (insert.rotation * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  // Rows and columns turn with the block and are not scaled.
  const [over, up] = [column * insert.columnSpacing, row * insert.rowSpacing];
  const x = insert.x + cos * over - sin * up;
  const y = insert.y + sin * over + cos * up;
  const [a, b] = [cos * insert.scaleX, sin * insert.scaleX];
  const [c, d] = [-sin * insert.scaleY, cos * insert.scaleY];
  const m: Affine = [
    a,
    b,
    c,
    d,
    x - a * block.baseX - c * block.baseY,
    y - b * block.baseX - d * block.baseY,
  ];
  return insert.mirrored ? after([-1, 0, 0, 1, 0, 0], m) : m;
}

/** How many things an item comes to once drawn. Throws where blocks hold themselves, lie too deep, or are too many. */
function counter(model: DxfModel): (items: readonly Item[]) => number {
  const known = new Map<string, number>();
  const open: string[] = [];
  const count = (items: readonly Item[]): number => {
    let sum = 0;
    for (const item of items) {
      sum += item.kind === 'insert' ? ofInsert(item) : 1;
      if (sum > DXF_LIMITS.expanded)
        throw new DxfRefused(
          `Its blocks, drawn out, come to more than ${DXF_LIMITS.expanded.toLocaleString('en-GB')} things. Ask for one storey at a time.`,
        );
    }
    return sum;
  };
  const ofInsert = (insert: Insert): number => {
    const block = model.blocks.get(insert.block);
    if (!block) return 0;
    if (insert.rows * insert.columns > DXF_LIMITS.array)
      throw new DxfRefused(
        `A block is repeated in ${insert.rows} rows of ${insert.columns}, more than any plan needs.`,
      );
    if (open.includes(insert.block))
      throw new DxfRefused(
        `The block "${insert.block.slice(0, 60)}" holds itself, so it can never be drawn.`,
      );
    if (open.length >= DXF_LIMITS.depth)
      throw new DxfRefused(`Blocks lie in blocks more than ${DXF_LIMITS.depth} deep.`);
    let own = known.get(insert.block);
    if (own === undefined) {
      open.push(insert.block);
      own = count(block.items);
      open.pop();
      known.set(insert.block, own);
    }
    return own * insert.rows * insert.columns;
  };
  return count;
}

/** All paths and texts of a drawing with every block drawn where it is put. Counted first, so it ends. */
export function expanded(model: DxfModel): { readonly paths: Path[]; readonly texts: TextItem[] } {
  counter(model)(model.items);
  const paths: Path[] = [];
  const texts: TextItem[] = [];
  let vertices = 0;
  const draw = (items: readonly Item[], m: Affine, layer: string | null): void => {
    for (const item of items) {
      // What lies on layer 0 of a block takes the layer it is put on.
      const on = item.layer === '0' && layer !== null ? layer : item.layer;
      if (item.kind === 'path') {
        if (item.vertices.length < 4) continue;
        vertices += item.vertices.length / 2;
        if (vertices > DXF_LIMITS.vertices)
          throw new DxfRefused('The drawing has too many points. Ask for one storey at a time.');
        paths.push({ ...item, layer: on, vertices: moved(m, item.vertices) });
      } else if (item.kind === 'text') {
        if (texts.length >= DXF_LIMITS.texts) continue;
        texts.push({
          ...item,
          layer: on,
          x: m[0] * item.x + m[2] * item.y + m[4],
          y: m[1] * item.x + m[3] * item.y + m[5],
          height: item.height * Math.hypot(m[2], m[3]),
        });
      } else drawInsert(item, m, on);
    }
  };
  const drawInsert = (insert: Insert, m: Affine, on: string): void => {
    const block = model.blocks.get(insert.block);
    if (!block) {
      model.leftOut.set(
        'blocks that are not in the file',
        (model.leftOut.get('blocks that are not in the file') ?? 0) + 1,
      );
      return;
    }
    for (let row = 0; row < insert.rows; row++)
      for (let column = 0; column < insert.columns; column++)
        draw(block.items, after(m, placed(insert, block, row, column)), on);
  };
  draw(model.items, STILL, null);
  return { paths, texts };
}

function moved(m: Affine, vertices: Float64Array): Float64Array {
  if (m === STILL) return vertices;
  const out = new Float64Array(vertices.length);
  for (let i = 0; i < vertices.length; i += 2) {
    const [x, y] = [vertices[i] as number, vertices[i + 1] as number];
    out[i] = m[0] * x + m[2] * y + m[4];
    out[i + 1] = m[1] * x + m[3] * y + m[5];
  }
  return out;
}

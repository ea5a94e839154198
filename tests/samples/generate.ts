import { BLANK_RUN } from '../../src/engine/model/blankRun.ts';
import { newDocument, tableFrom } from '../../src/engine/model/defaults.ts';
import type {
  BuildUp,
  Circuit,
  Id,
  Opening,
  Place,
  PlanDocument,
  Point,
  Run,
  Side,
  Wall,
  WallNode,
} from '../../src/engine/model/document.ts';
import type { Mm, PlanPoint } from '../../src/engine/model/units.ts';

/** Numbers from 0 to 1 that follow from the seed alone (mulberry32, public domain). */
export function seededRandom(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), a | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

const STOREY = 's1';
/** Doors stand within this of a wall's first node, points beyond it. */
const DOOR = { from: 250, width: 800, clear: 1350 } as const;
const POINT_STEP: Mm = 350;
/** One drop in so many is drawn beside its point, and leaves the zones. */
const STRAY_EVERY = 40;

interface Cell {
  readonly row: number;
  readonly column: number;
}

/** A wall side that looks into a cell, with what a point on it needs. */
interface Host {
  readonly wall: Id;
  readonly side: Side;
  /** Plan direction of the wall: along x or along y. */
  readonly along: 'x' | 'y';
  readonly start: PlanPoint;
  readonly length: Mm;
  /** The coordinate of the finished surface. */
  readonly surface: Mm;
  readonly stud: boolean;
}

interface Grid {
  readonly nodes: readonly WallNode[];
  readonly walls: readonly Wall[];
  readonly openings: readonly Opening[];
  readonly hosts: ReadonlyMap<string, readonly Host[]>;
  readonly cells: readonly Cell[];
}

const thickness = (build: BuildUp): Mm => build.layers.reduce((sum, l) => sum + l.thickness, 0);
const cellKey = ({ row, column }: Cell): string => `${row}.${column}`;
const edges = (rows: number, columns: number): number => rows * (columns + 1) + columns * (rows + 1);

/** The flattest grid of cells, rows not above columns, whose edges are enough for the walls wanted. */
function gridSize(walls: number): { rows: number; columns: number } {
  let rows = 1;
  while (edges(rows + 1, rows + 1) <= walls) rows += 1;
  let columns = rows;
  while (edges(rows, columns) < walls) columns += 1;
  return { rows, columns };
}

/** Positions of grid lines, spaced 3.0 to 5.0 m. */
function lines(count: number, random: () => number): Mm[] {
  const at: Mm[] = [0];
  for (let i = 1; i <= count; i++) at.push((at[i - 1] as Mm) + 3000 + 50 * Math.floor(random() * 41));
  return at;
}

/** The construction of the inner walls on one grid line. */
function innerBuild(random: () => number): Id {
  const pick = random();
  if (pick < 0.6) return 'timber-stud';
  return pick < 0.8 ? 'metal-stud' : 'block-plaster';
}

function makeGrid(wallCount: number, builds: PlanDocument['buildUps'], random: () => number): Grid {
  const { rows, columns } = gridSize(wallCount);
  const xs = lines(columns, random);
  const ys = lines(rows, random);
  const nodeId = (row: number, column: number): Id => `n${row * (columns + 1) + column + 1}`;
  const nodes = ys.flatMap((y, row) =>
    xs.map((x, column) => ({ id: nodeId(row, column), storey: STOREY, x, y })),
  );
  const planned: { along: 'x' | 'y'; row: number; column: number; outer: boolean; build: Id; key: number }[] =
    [];
  for (let row = 0; row <= rows; row++) {
    const outer = row === 0 || row === rows;
    const build = outer ? 'timber-void' : innerBuild(random);
    for (let column = 0; column < columns; column++) {
      planned.push({ along: 'x', row, column, outer, build, key: random() });
    }
  }
  for (let column = 0; column <= columns; column++) {
    const outer = column === 0 || column === columns;
    const build = outer ? 'timber-void' : innerBuild(random);
    for (let row = 0; row < rows; row++) {
      planned.push({ along: 'y', row, column, outer, build, key: random() });
    }
  }
  // More edges than walls wanted: leave out inner ones first, which joins rooms and makes free ends.
  const spare = planned.length - wallCount;
  const left = new Set(
    [...planned].sort((a, b) => Number(a.outer) - Number(b.outer) || a.key - b.key).slice(0, spare),
  );
  const kept = planned.filter((p) => !left.has(p));

  const hosts = new Map<string, Host[]>();
  const walls: Wall[] = [];
  const openings: Opening[] = [];
  for (const { along, row, column, outer, build, key } of kept) {
    const id = `w${walls.length + 1}`;
    const buildUp = builds.byId[build] as BuildUp;
    const start = { x: xs[column] as Mm, y: ys[row] as Mm };
    const length = along === 'x' ? (xs[column + 1] as Mm) - start.x : (ys[row + 1] as Mm) - start.y;
    // Outer walls have their void on the left; turn them where the building is on the right.
    const flipped = outer && (along === 'x' ? row === 0 : column === columns);
    const to = along === 'x' ? nodeId(row, column + 1) : nodeId(row + 1, column);
    walls.push({
      id,
      storey: STOREY,
      from: nodeId(row, column),
      to,
      buildUp: build,
      flipped,
      top: { kind: 'ceiling' },
      toldFromBehind: { left: null, right: null },
    });
    if (!outer && key > 0.5) {
      const door = { kind: 'door', along: DOOR.from, width: DOOR.width, sill: 0, head: 2100 } as const;
      openings.push({ id: `o${openings.length + 1}`, wall: id, ...door });
    }
    // Left of a wall drawn to the right lies above it; left of one drawn down lies to its right.
    const half = thickness(buildUp) / 2;
    const before = along === 'x' ? { row: row - 1, column } : { row, column: column - 1 };
    const base = { wall: id, along, start, length, stud: buildUp.frame !== 'masonry' } as const;
    const add = (cell: Cell, side: Side, surface: Mm): void => {
      if (cell.row < 0 || cell.column < 0 || cell.row >= rows || cell.column >= columns) return;
      const list = hosts.get(cellKey(cell)) ?? [];
      hosts.set(cellKey(cell), [...list, { ...base, side, surface }]);
    };
    const centre = along === 'x' ? start.y : start.x;
    add(before, along === 'x' ? 'left' : 'right', centre - half);
    add({ row, column }, along === 'x' ? 'right' : 'left', centre + half);
  }
  const cells = ys.slice(0, -1).flatMap((_, row) => xs.slice(0, -1).map((_x, column) => ({ row, column })));
  return { nodes, walls, openings, hosts, cells };
}

interface Spot {
  readonly id: Id;
  readonly host: Host;
  readonly along: Mm;
  readonly z: Mm;
  readonly at: PlanPoint;
}

function spotOn(id: Id, host: Host, along: Mm, z: Mm): Spot {
  const at =
    host.along === 'x'
      ? { x: host.start.x + along, y: host.surface }
      : { x: host.surface, y: host.start.y + along };
  return { id, host, along, z, at };
}

/** The `n`th place for a point in a cell: round its walls first, then further along each, then higher. */
function placeInCell(id: Id, hosts: readonly Host[], n: number): Spot {
  const host = hosts[n % hosts.length] as Host;
  const slots = Math.max(1, Math.floor((host.length - DOOR.clear - 300) / POINT_STEP));
  const turn = Math.floor(n / hosts.length);
  const along = DOOR.clear + POINT_STEP * (turn % slots);
  return spotOn(id, host, along, 450 + 250 * (Math.floor(turn / slots) % 6));
}

const faceOf = (spot: Spot, along: Mm, z: Mm): Place => ({
  on: 'face',
  wall: spot.host.wall,
  side: spot.host.side,
  along,
  z,
});
const ceilingAt = ({ x, y }: PlanPoint): Place => ({ on: 'ceiling', storey: STOREY, x, y });

/** Up from one point, square over the ceiling by a lane, plumb down to the other; a stray drops beside its point. */
function wayOver(from: Spot, to: Spot, lane: Mm, stray: boolean): Place[] {
  const corners = [from.at, { x: from.at.x, y: lane }, { x: to.at.x, y: lane }, to.at].filter(
    (p, i, all) => i === 0 || p.x !== all[i - 1]?.x || p.y !== all[i - 1]?.y,
  );
  if (!stray) return corners.map(ceilingAt);
  const beside = spotOn(to.id, to.host, to.along + 250, to.z);
  return [
    ...corners.map(ceilingAt),
    ceilingAt(beside.at),
    faceOf(to, beside.along, to.z - 300),
    faceOf(to, to.along, to.z - 300),
  ];
}

function makeRun(n: number, circuit: Id, from: Spot, to: Spot, corners: readonly Place[]): Run {
  return {
    id: `r${n}`,
    label: `R${n}`,
    circuit,
    cable: 'te2-5',
    from: from.id,
    to: to.id,
    corners,
    fixing: 'in-stud',
    origin: 'drawn',
    ...BLANK_RUN,
  };
}

function socket(spot: Spot, n: number, circuit: Id | null, kind: Point['kind']): Point {
  const board = kind === 'consumer-unit';
  return {
    id: spot.id,
    label: `P${n}`,
    kind,
    name: board ? `Board ${n}` : `Socket ${n}`,
    place: faceOf(spot, spot.along, spot.z),
    gangs: 1,
    box: board ? null : { box: spot.host.stud ? 'lining-1g-35' : 'metal-1g-35', fixedFirst: !spot.host.stud },
    visible: true,
    circuit,
    load: null,
    loadKind: null,
    controls: [],
    plate: null,
  };
}

/**
 * A large invented plan for measuring: a grid of rooms of `walls` walls, a consumer unit per row of rooms, a radial per
 * room, `runs` runs of several legs each; about one run in forty leaves the zones. The same numbers give the same plan.
 * At least 4 walls and 1 run; misuse throws.
 */
export function generateLarge(seed: number, walls: number, runs: number): PlanDocument {
  if (walls < 4 || runs < 1) throw new Error('a generated plan has at least 4 walls and 1 run');
  const random = seededRandom(seed);
  const base = newDocument(`Generated plan ${seed}`);
  const grid = makeGrid(walls, base.buildUps, random);
  const points: Point[] = [];
  const circuits: Circuit[] = [];
  const made: Run[] = [];
  let board: Spot | null = null;
  let waiting = 0;
  const runsUpTo = (cells: number): number => Math.floor((runs * cells) / grid.cells.length);
  grid.cells.forEach((cell, index) => {
    const hosts = grid.hosts.get(cellKey(cell)) ?? [];
    // A cell that lost all its walls hands its runs on to the next.
    waiting += runsUpTo(index + 1) - runsUpTo(index);
    if (hosts.length === 0) return;
    const share = waiting;
    waiting = 0;
    if (cell.column === 0 || board === null) {
      const host = hosts[0] as Host;
      board = spotOn(`p${points.length + 1}`, host, host.length - 700, 1400);
      points.push(socket(board, points.length + 1, null, 'consumer-unit'));
    }
    if (share === 0) return;
    const circuit = `c${circuits.length + 1}`;
    circuits.push({
      id: circuit,
      label: `C${circuits.length + 1}`,
      name: `Sockets of room ${cell.row + 1}.${cell.column + 1}`,
      topology: 'radial',
      device: { type: 'B', rating: 20, rcd: 30 },
      board: board.id,
      cable: 'te2-5',
      cable3: null,
      way: 'ceiling',
      first: [],
      last: [],
      designCurrent: null,
    });
    let previous: Spot = board;
    for (let i = 0; i < share; i++) {
      const spot = placeInCell(`p${points.length + 1}`, hosts, i);
      points.push(socket(spot, points.length + 1, circuit, 'socket'));
      const n = made.length + 1;
      const lane = Math.round((previous.at.y + spot.at.y) / 2 + 100 * Math.floor(random() * 5));
      made.push(makeRun(n, circuit, previous, spot, wayOver(previous, spot, lane, n % STRAY_EVERY === 0)));
      previous = spot;
    }
  });
  return {
    ...base,
    job: { ...base.job, notes: 'Everything in this plan is invented: made by a generator, for measuring.' },
    nodes: tableFrom(grid.nodes),
    walls: tableFrom(grid.walls),
    openings: tableFrom(grid.openings),
    points: tableFrom(points),
    circuits: tableFrom(circuits),
    runs: tableFrom(made),
    counters: {
      s: 1,
      n: grid.nodes.length,
      w: grid.walls.length,
      o: grid.openings.length,
      p: points.length,
      c: circuits.length,
      r: made.length,
    },
  };
}

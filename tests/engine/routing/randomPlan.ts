import { BLANK_RUN } from '../../../src/engine/model/blankRun.ts';
import { newDocument, tableFrom } from '../../../src/engine/model/defaults.ts';
import type {
  Circuit,
  Opening,
  PlanDocument,
  Point,
  PointKind,
  Run,
  Thing,
  Wall,
  WallNode,
} from '../../../src/engine/model/document.ts';
import { plateOf, POINT_KINDS } from '../../../src/engine/model/pointKinds.ts';

/** A small building of random rooms in a grid, with doors, points, things in the way, and voids that come and go. */
export function randomPlan(random: () => number): PlanDocument {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
  const between = (lo: number, hi: number): number => Math.round(lo + random() * (hi - lo));
  const columns = between(1, 3);
  const lines = between(1, 2);
  const xs = [0];
  const ys = [0];
  for (let i = 0; i < columns; i += 1) xs.push((xs[i] as number) + between(1800, 4200));
  for (let i = 0; i < lines; i += 1) ys.push((ys[i] as number) + between(1800, 3600));
  const nodes: WallNode[] = [];
  const walls: Wall[] = [];
  const node = (x: number, y: number): string => {
    const id = `n${x}-${y}`;
    if (!nodes.some((n) => n.id === id)) nodes.push({ id, storey: 's1', x, y });
    return id;
  };
  const wall = (ax: number, ay: number, bx: number, by: number, buildUp: string): void => {
    walls.push({
      id: `w${walls.length + 1}`,
      storey: 's1',
      from: node(ax, ay),
      to: node(bx, by),
      buildUp,
      flipped: random() < 0.5,
      top: { kind: 'ceiling' },
      toldFromBehind: { left: true, right: true },
    });
  };
  const width = xs[columns] as number;
  const depth = ys[lines] as number;
  const outer = pick(['timber-void', 'block-plaster', 'block-dabs']);
  wall(0, 0, width, 0, outer);
  wall(width, 0, width, depth, outer);
  wall(width, depth, 0, depth, outer);
  wall(0, depth, 0, 0, outer);
  for (const x of xs.slice(1, -1)) wall(x, 0, x, depth, pick(['timber-stud', 'metal-stud', 'block-plaster']));
  for (const y of ys.slice(1, -1)) wall(0, y, width, y, pick(['timber-stud', 'metal-stud', 'block-dabs']));

  const lengthOf = (w: Wall): number => {
    const a = nodes.find((n) => n.id === w.from) as WallNode;
    const b = nodes.find((n) => n.id === w.to) as WallNode;
    return Math.hypot(b.x - a.x, b.y - a.y);
  };
  const openings: Opening[] = [];
  for (const w of walls) {
    if (random() < 0.3) continue;
    const door = random() < 0.5;
    const wide = between(700, 1200);
    const room = lengthOf(w) - wide - 600;
    if (room <= 0) continue;
    openings.push({
      id: `o${openings.length + 1}`,
      wall: w.id,
      kind: door ? 'door' : 'window',
      along: 300 + between(0, room),
      width: wide,
      sill: door ? 0 : between(700, 1100),
      head: 2050,
    });
  }

  const points: Point[] = [];
  const base = newDocument('Random');
  const storey = {
    ...(base.storeys.byId.s1 as PlanDocument['storeys']['byId'][string]),
    ceiling: {
      kind: random() < 0.8 ? ('void' as const) : ('solid' as const),
      voidDepth: 200,
      cableRise: 100,
      joists: {
        direction: random() < 0.5 ? 0 : Math.PI / 2,
        depth: 195,
        breadth: 45,
        centres: 400,
        span: null,
        member: 'solid' as const,
        chart: '',
      },
      insulation: 'none' as const,
    },
    floor: {
      kind: random() < 0.4 ? ('void' as const) : ('solid' as const),
      voidDepth: 200,
      cableDrop: 60,
      joists: null,
    },
  };
  const onFace = (kind: PointKind, circuit: string | null): void => {
    const w = pick(walls);
    const facts = POINT_KINDS[kind];
    const box = facts.boxed ? { box: 'metal-1g-35', fixedFirst: true } : null;
    points.push({
      id: `p${points.length + 1}`,
      label: `P${points.length + 1}`,
      kind,
      name: '',
      place: {
        on: 'face',
        wall: w.id,
        side: pick(['left', 'right'] as const),
        along: between(400, lengthOf(w) - 400),
        z: pick([450, 1200, facts.height]),
      },
      gangs: 1,
      box,
      visible: random() < 0.95,
      circuit,
      load: null,
      loadKind: null,
      controls: [],
      plate: plateOf({ kind, gangs: 1 }),
    });
  };
  const onCeiling = (kind: PointKind, circuit: string): void => {
    points.push({
      id: `p${points.length + 1}`,
      label: `P${points.length + 1}`,
      kind,
      name: '',
      place: { on: 'ceiling', storey: 's1', x: between(300, width - 300), y: between(300, depth - 300) },
      gangs: 1,
      box: null,
      visible: true,
      circuit,
      load: null,
      loadKind: null,
      controls: [],
      plate: null,
    });
  };
  onFace('consumer-unit', null);
  for (let i = between(2, 7); i > 0; i -= 1) onFace('socket', 'c1');
  for (let i = between(1, 3); i > 0; i -= 1) onCeiling('ceiling-light', 'c2');
  onFace('switch-1way', 'c2');
  const lights = points.filter((p) => p.kind === 'ceiling-light').map((p) => p.id);
  const last = points[points.length - 1] as Point;
  points[points.length - 1] = { ...last, controls: [lights] };

  const things: Thing[] = walls
    .filter(() => random() < 0.3)
    .map((w, i) => {
      const along0 = between(0, Math.max(1, lengthOf(w) - 500));
      return {
        id: `t${i + 1}`,
        kind: pick(['no-cable', 'radiator', 'unit', 'bracket'] as const),
        name: `Thing ${i + 1}`,
        place: {
          on: 'face',
          wall: w.id,
          side: pick(['left', 'right'] as const),
          along0,
          along1: along0 + between(300, 1200),
          z0: between(0, 900),
          z1: between(1000, 1800),
        },
      };
    });
  const circuit = (id: string, topology: Circuit['topology'], cable: string): Circuit => ({
    id,
    label: id.toUpperCase(),
    name: topology,
    topology,
    device: { type: 'B', rating: topology === 'ring' ? 32 : 6, rcd: 30 },
    board: 'p1',
    cable,
    cable3: null,
    way: null,
    first: [],
    last: [],
    designCurrent: null,
  });
  return {
    ...base,
    job: {
      ...base.job,
      edition: random() < 0.5 ? 'bs7671-2018-a4' : 'bs7671-2018-a3',
      otherCircuitsInStrip: true,
    },
    storeys: tableFrom([storey]),
    nodes: tableFrom(nodes),
    walls: tableFrom(walls),
    openings: tableFrom(openings),
    things: tableFrom(things),
    points: tableFrom(points),
    circuits: tableFrom([
      circuit('c1', random() < 0.6 ? 'ring' : 'radial', 'te2-5'),
      circuit('c2', 'lighting', 'te1-5'),
    ]),
  };
}

/** A run as a suggestion would be stored. */
export function suggestedRun(parts: Pick<Run, 'id' | 'from' | 'to' | 'cable' | 'corners' | 'circuit'>): Run {
  return {
    label: parts.id.toUpperCase(),
    fixing: 'clipped',
    ...BLANK_RUN,
    origin: 'suggested',
    ...parts,
  };
}

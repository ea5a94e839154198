import { newDocument, tableFrom } from '../../src/engine/model/defaults.ts';
import type {
  Box,
  Circuit,
  Id,
  Opening,
  Place,
  PlanDocument,
  Point,
  RoomTag,
  Run,
  Side,
  Storey,
  Thing,
  Wall,
  WallNode,
} from '../../src/engine/model/document.ts';
import { plateGuessed, plateOf } from '../../src/engine/model/pointKinds.ts';
import { rows } from '../../src/engine/model/tables.ts';
import type { Mm } from '../../src/engine/model/units.ts';

/** A wall surface by name: which wall, which side, and the coordinate that is the same all along it. */
export interface Surface {
  readonly wall: Id;
  readonly side: Side;
  readonly axis: 'x' | 'y';
  readonly at: Mm;
}

type Corner = readonly [Mm, Mm];
type PointWish = Pick<Point, 'kind' | 'name'> & Partial<Omit<Point, 'id' | 'label' | 'place'>>;
type RunWish = Partial<Omit<Run, 'id' | 'label' | 'from' | 'to' | 'corners' | 'cable'>>;

const FRESH: Pick<Run, 'progress' | 'asLaid'> = {
  progress: { pulled: null, labelled: null, photographed: null, tested: null, covered: null },
  asLaid: { state: 'not-recorded', note: '' },
};

/**
 * Writes a plan by hand, in plan coordinates: walls square to the axes, points by surface name. Wrong use throws:
 * this is a tool for samples and tests, not for input.
 */
export class PlanBuilder {
  readonly #base: PlanDocument;
  readonly #nodes: WallNode[] = [];
  readonly #walls: Wall[] = [];
  readonly #openings: Opening[] = [];
  readonly #tags: RoomTag[] = [];
  readonly #things: Thing[] = [];
  readonly #points: Point[] = [];
  readonly #circuits: Circuit[] = [];
  readonly #runs: Run[] = [];
  readonly #above: Storey[] = [];
  /** The storey that is built on. */
  #storey: Id = 's1';

  /** Goes on from a plan: what it holds stays, what is added gets the next numbers. */
  constructor(base: PlanDocument = newDocument('')) {
    this.#base = base;
    this.#nodes.push(...rows(base.nodes));
    this.#walls.push(...rows(base.walls));
    this.#openings.push(...rows(base.openings));
    this.#tags.push(...rows(base.roomTags));
    this.#things.push(...rows(base.things));
    this.#points.push(...rows(base.points));
    this.#circuits.push(...rows(base.circuits));
    this.#runs.push(...rows(base.runs));
  }

  /** A storey above: what is drawn from now on stands on it. */
  storey(wish: Omit<Storey, 'id'>): Id {
    this.#storey = `s${this.#above.length + 2}`;
    this.#above.push({ ...wish, id: this.#storey });
    return this.#storey;
  }

  node(x: Mm, y: Mm): Id {
    const id = next('n', this.#nodes);
    this.#nodes.push({ id, storey: this.#storey, x, y });
    return id;
  }

  wall(from: Id, to: Id, buildUp: Id, top: Wall['top'] = { kind: 'ceiling' }): Id {
    const id = next('w', this.#walls);
    this.#walls.push({
      id,
      storey: this.#storey,
      from,
      to,
      buildUp,
      flipped: false,
      top,
      toldFromBehind: { left: null, right: null },
    });
    return id;
  }

  /** Somebody has said of a thin wall that the points of both sides can be told from the other. */
  told(wall: Id): void {
    const at = this.#walls.findIndex((w) => w.id === wall);
    this.#walls[at] = { ...(this.#walls[at] as Wall), toldFromBehind: { left: true, right: true } };
  }

  /** The finished surface of a square wall's side. */
  surface(wall: Id, side: Side): Surface {
    const { from, to, thickness } = this.#wallLine(wall);
    const axis = from.y === to.y ? 'y' : 'x';
    // Left is towards (dy, -dx).
    const left = axis === 'y' ? -Math.sign(to.x - from.x) : Math.sign(to.y - from.y);
    const centre = axis === 'y' ? from.y : from.x;
    return { wall, side, axis, at: centre + ((side === 'left' ? left : -left) * thickness) / 2 };
  }

  /** Along the centre line to plan coordinate `t` (x of a wall drawn across the page, y of one drawn down it). */
  along(wall: Id, t: Mm): Mm {
    const { from, to } = this.#wallLine(wall);
    return from.y === to.y ? Math.abs(t - from.x) : Math.abs(t - from.y);
  }

  /** An opening from plan coordinate `t0` to `t1`. */
  opening(wall: Id, kind: Opening['kind'], t0: Mm, t1: Mm, sill: Mm, head: Mm): Id {
    const id = next('o', this.#openings);
    const ends = [this.along(wall, t0), this.along(wall, t1)] as const;
    const along = Math.min(...ends);
    this.#openings.push({ id, wall, kind, along, width: Math.max(...ends) - along, sill, head });
    return id;
  }

  room(x: Mm, y: Mm, name: string, use: RoomTag['use']): void {
    this.#tags.push({ id: next('t', this.#tags), storey: this.#storey, x, y, name, use });
  }

  thing(kind: Thing['kind'], name: string, place: Thing['place']): void {
    this.#things.push({ id: next('k', this.#things), kind, name, place });
  }

  circuit(wish: Pick<Circuit, 'name' | 'topology' | 'device' | 'cable'> & Partial<Circuit>): Id {
    const id = next('c', this.#circuits);
    this.#circuits.push({
      id,
      label: id.toUpperCase(),
      board: null,
      cable3: null,
      way: 'ceiling',
      first: [],
      last: [],
      designCurrent: null,
      ...wish,
    });
    return id;
  }

  /** A place on a surface, at plan coordinate `t` along it and height z. */
  on(surface: Surface, t: Mm, z: Mm): Place {
    return { on: 'face', wall: surface.wall, side: surface.side, along: this.along(surface.wall, t), z };
  }

  ceiling(x: Mm, y: Mm, storey: Id = this.#storey): Place {
    return { on: 'ceiling', storey, x, y };
  }

  point(place: Place, wish: PointWish): Id {
    const id = next('p', this.#points);
    this.#points.push({
      id,
      label: id.toUpperCase(),
      gangs: 1,
      box: null,
      visible: true,
      circuit: null,
      load: null,
      loadKind: null,
      // Whoever drew it has measured what has no usual size.
      plate: plateGuessed({ kind: wish.kind, gangs: 1 }) ? plateOf({ kind: wish.kind, gangs: 1 }) : null,
      controls: [],
      ...wish,
      place,
    });
    return id;
  }

  /** Plan position of a place: on its surface for a wall. */
  spot(place: Place): Corner {
    if (place.on !== 'face') return [place.x, place.y];
    const { from, to } = this.#wallLine(place.wall);
    const { axis, at } = this.surface(place.wall, place.side);
    return axis === 'y'
      ? [from.x + Math.sign(to.x - from.x) * place.along, at]
      : [at, from.y + Math.sign(to.y - from.y) * place.along];
  }

  /** A run with its corners as places. */
  run(from: Id, to: Id, cable: Id, corners: readonly Place[], wish: RunWish = {}): Id {
    const id = next('r', this.#runs);
    this.#runs.push({
      id,
      label: id.toUpperCase(),
      circuit: null,
      cable,
      from,
      to,
      corners,
      fixing: 'in-stud',
      depth: null,
      protection: 'none',
      tailFrom: null,
      tailTo: null,
      origin: 'drawn',
      locked: false,
      ...FRESH,
      notes: '',
      ...wish,
    });
    return id;
  }

  /**
   * A run over the ceiling: up plumb from a wall point, by the given corners in the void (`x,y x,y ...`, mm), plumb
   * down to the other.
   */
  over(from: Id, to: Id, cable: Id, corners: string, wish: RunWish = {}): Id {
    const above = (id: Id): Place[] => {
      const place = this.placeOf(id);
      return place.on === 'face' ? [this.ceiling(...this.spot(place))] : [];
    };
    const between = corners.split(' ').flatMap((pair) => {
      const [x, y] = pair.split(',').map(Number);
      return x === undefined || y === undefined ? [] : [this.ceiling(x, y)];
    });
    return this.run(from, to, cable, [...above(from), ...between, ...above(to)], wish);
  }

  placeOf(point: Id): Place {
    const found = this.#points.find((p) => p.id === point);
    if (found === undefined) throw new Error(`no point ${point}`);
    return found.place;
  }

  build(
    job: Partial<PlanDocument['job']>,
    storey: Partial<PlanDocument['storeys']['byId'][string]>,
  ): PlanDocument {
    const base = this.#base;
    const first = base.storeys.byId.s1;
    if (first === undefined) throw new Error('the base plan has no storey s1');
    return {
      ...base,
      job: { ...base.job, ...job },
      storeys: tableFrom([{ ...first, ...storey }, ...this.#above]),
      nodes: tableFrom(this.#nodes),
      walls: tableFrom(this.#walls),
      openings: tableFrom(this.#openings),
      roomTags: tableFrom(this.#tags),
      things: tableFrom(this.#things),
      points: tableFrom(this.#points),
      circuits: tableFrom(this.#circuits),
      runs: tableFrom(this.#runs),
      counters: {
        s: 1 + this.#above.length,
        n: highest('n', this.#nodes),
        w: highest('w', this.#walls),
        o: highest('o', this.#openings),
        t: highest('t', this.#tags),
        k: highest('k', this.#things),
        p: highest('p', this.#points),
        c: highest('c', this.#circuits),
        r: highest('r', this.#runs),
      },
    };
  }

  #wallLine(id: Id): { from: WallNode; to: WallNode; thickness: Mm } {
    const wall = this.#walls.find((w) => w.id === id);
    const from = this.#nodes.find((n) => n.id === wall?.from);
    const to = this.#nodes.find((n) => n.id === wall?.to);
    const build = this.#base.buildUps.byId[wall?.buildUp ?? ''];
    if (!wall || !from || !to || !build) throw new Error(`wall ${id} is not whole`);
    if (from.x !== to.x && from.y !== to.y) throw new Error(`wall ${id} is not square to the page`);
    return { from, to, thickness: build.layers.reduce((sum, l) => sum + l.thickness, 0) };
  }
}

/** The highest number given out to records of a prefix. */
function highest(prefix: string, records: readonly { readonly id: Id }[]): number {
  return Math.max(0, ...records.map((r) => Number(r.id.slice(prefix.length))));
}

const next = (prefix: string, records: readonly { readonly id: Id }[]): Id =>
  `${prefix}${highest(prefix, records) + 1}`;

/** A box of the default list. */
export function boxed(mount: Box['mount'], gangs: 1 | 2, depth: Mm): Point['box'] {
  const kind = mount === 'metal' ? 'metal' : mount === 'round' ? 'round' : 'lining';
  return { box: `${kind}-${gangs}g-${depth}`, fixedFirst: mount === 'metal' };
}

import type { Face, Fabric, Leg } from '../fabric/types.ts';
import { rows } from '../model/tables.ts';
import type { BuildUp, Cable, Layer, Run, Side, Thing } from '../model/document.ts';
import type { Mm } from '../model/units.ts';
import type { Held } from '../takeoff/types.ts';
import type { ElectricalInput } from './net.ts';
import type { Method } from './tables/ratings.ts';
import { legInThing } from './within.ts';

/** How a stretch of a leg lies: the reference method, and the length wholly surrounded by insulation if any. */
export interface Surrounding {
  readonly t0: number;
  readonly t1: number;
  /** Null where nothing is known of what it lies in. */
  readonly method: Method | null;
  /** mm wholly surrounded: then the factor goes on method C and on no other. */
  readonly surrounded: Mm;
  readonly why: string;
}

const BURIED: ReadonlySet<Layer['material']> = new Set(['plaster', 'dab', 'block', 'brick']);

/** Layers of a wall from the surface of a side inwards, and which of them cables of that side lie in. */
function layersFrom(
  buildUp: BuildUp,
  flipped: boolean,
  side: Side,
): { layers: readonly Layer[]; cable: number } {
  // A flipped wall's right side is the build-up's left one.
  const end: Side = flipped ? (side === 'left' ? 'right' : 'left') : side;
  const index = buildUp.cableLayer[end];
  return end === 'left'
    ? { layers: buildUp.layers, cable: index }
    : { layers: buildUp.layers.toReversed(), cable: buildUp.layers.length - 1 - index };
}

/** Method of a cable in a wall; `depth` is its centre below the surface of its side. */
function inWall(
  input: ElectricalInput,
  face: Face,
  piece: number,
  run: Run,
  cable: Cable,
  held: Held,
): [Method, string] {
  const { doc } = input;
  const at = face.pieces[piece];
  const wall = at === undefined ? undefined : doc.walls.byId[at.wall];
  const buildUp = wall === undefined ? undefined : doc.buildUps.byId[wall.buildUp];
  if (at === undefined || wall === undefined || buildUp === undefined) return ['B', 'in a wall'];
  const { layers, cable: usual } = layersFrom(buildUp, wall.flipped, at.side);
  let [index, before] = [usual, layers.slice(0, usual).reduce((sum, l) => sum + l.thickness, 0)];
  if (run.depth !== null) {
    [index, before] = [0, 0];
    while (index < layers.length - 1 && before + (layers[index] as Layer).thickness <= run.depth) {
      before += (layers[index] as Layer).thickness;
      index++;
    }
  }
  const layer = layers[index];
  if (layer?.insulated === true) {
    if (run.fixing === 'conduit') return ['A', 'in conduit in an insulated wall'];
    const touches = run.depth !== null && run.depth - cable.height / 2 <= before + TOUCHING;
    return touches
      ? ['102', 'in an insulated wall, touching the inner board']
      : [
          '103',
          run.depth === null
            ? 'in an insulated wall, depth not stated: taken as not touching the inner board'
            : 'in an insulated wall, not touching the inner board',
        ];
  }
  if (run.fixing === 'conduit') return ['B', 'in conduit'];
  if (held === 'buried' || (layer && BURIED.has(layer.material))) return ['C', 'in plaster or masonry'];
  if (held === 'through-holes') return ['B', 'through holes in the studs of a wall without insulation'];
  return held === 'clipped'
    ? ['C', 'clipped in a wall without insulation']
    : ['B', 'loose in the void of a wall without insulation'];
}

/** A cable nearer than this to the back of the board touches it. */
const TOUCHING: Mm = 2;

function inVoid(input: ElectricalInput, leg: Leg, run: Run, held: Held): [Method, string] {
  const storey = input.doc.storeys.byId[leg.storey];
  const above = leg.kind !== 'floor';
  if (above && storey?.ceiling.insulation === 'thick')
    return ['101', 'above the ceiling under insulation over 100 mm thick'];
  if (above && storey?.ceiling.insulation === 'thin')
    return ['100', 'above the ceiling under insulation up to 100 mm thick'];
  const where = above ? 'above the ceiling' : 'under the floor';
  const build = above ? storey?.ceiling : storey?.floor;
  if (run.fixing === 'conduit') return ['B', `in conduit ${where}`];
  if (held === 'through-holes') return ['B', `through holes in the joists ${where}, no insulation`];
  // A rise or drop between wall and void is held as the run is said to be.
  if (build?.kind === 'solid' || held === 'clipped' || (held === 'across' && run.fixing === 'clipped'))
    return ['C', `${build?.kind === 'solid' ? 'buried' : 'clipped'} ${where}, no insulation`];
  return ['B', `loose in the void ${where}, no insulation`];
}

/** Thickness of the insulated layers of a wall that a leg goes through. */
function insulatedThickness(input: ElectricalInput, leg: Leg): Mm {
  const wall = leg.wall === null ? undefined : input.doc.walls.byId[leg.wall];
  const layers = wall === undefined ? [] : (input.doc.buildUps.byId[wall.buildUp]?.layers ?? []);
  const insulated = layers.filter((l) => l.insulated).reduce((sum, l) => sum + l.thickness, 0);
  return Math.min(insulated, leg.length);
}

/** Without the insulation that was laid as things: by wall or void. */
function plain(
  input: ElectricalInput,
  fabric: Fabric | undefined,
  leg: Leg,
  run: Run,
  cable: Cable,
  held: Held,
): Surrounding[] {
  const whole = (method: Method | null, why: string, surrounded = 0): Surrounding[] => [
    { t0: 0, t1: 1, method, surrounded, why },
  ];
  const face = leg.face === null ? undefined : fabric?.faces.get(leg.face);
  if (leg.kind === 'face' && face !== undefined && leg.fa !== null && leg.fb !== null) {
    const [ua, ub] = [leg.fa.u, leg.fb.u];
    const t = (u: Mm): number => (ub === ua ? 0 : (u - ua) / (ub - ua));
    const cuts = [0, 1];
    if (ub !== ua) for (const p of face.pieces) cuts.push(t(p.u0), t(p.u1));
    const inside = [...new Set(cuts.filter((x) => x >= 0 && x <= 1))].sort((x, y) => x - y);
    return inside.slice(1).map((t1, i) => {
      const t0 = inside[i] as number;
      const u = ua + (ub - ua) * ((t0 + t1) / 2);
      const piece = Math.max(
        0,
        face.pieces.findIndex((p) => u >= p.u0 && u <= p.u1),
      );
      const [method, why] = inWall(input, face, piece, run, cable, held);
      return { t0, t1, method, surrounded: 0, why };
    });
  }
  if (leg.kind === 'through') {
    const insulated = insulatedThickness(input, leg);
    return insulated > 0
      ? whole('C', `through ${Math.round(insulated)} mm of insulation in a wall`, insulated)
      : whole('C', 'through a wall');
  }
  if (leg.kind === 'ceiling' || leg.kind === 'floor' || leg.kind === 'riser')
    return whole(...inVoid(input, leg, run, held));
  return whole(null, 'what it lies in is not known');
}

interface Laid {
  readonly lo: number;
  readonly hi: number;
  readonly method: Method;
  readonly around: boolean;
  readonly name: string;
}

/** Insulation drawn as things, where a leg lies in it or under it. */
function laid(input: ElectricalInput, leg: Leg, cable: Cable): Laid[] {
  const level = input.doc.storeys.byId[leg.storey]?.level ?? 0;
  const half = cable.height / 2;
  return rows(input.doc.things)
    .filter((t) => t.kind === 'insulation')
    .flatMap((thing: Thing): Laid[] => {
      const name = thing.name === '' ? 'insulation' : `"${thing.name}"`;
      const { place } = thing;
      const around = legInThing(input.fabrics, leg, thing, level, place.on === 'plan' ? -half : 0).map(
        (p) => ({
          ...p,
          method: 'C' as const,
          around: true,
          name,
        }),
      );
      if (place.on === 'face' || leg.kind !== 'ceiling' || place.where !== 'ceiling') return around;
      // Insulation that begins at the cable or above it, lying over it.
      const [z0, z1] = [Math.min(place.z0, place.z1), Math.max(place.z0, place.z1)];
      const over = { ...thing, place: { ...place, z0: -1e9, z1 } };
      const covered = legInThing(input.fabrics, leg, over, level, -half).filter(
        (c) => !around.some((p) => p.lo <= c.lo && p.hi >= c.hi),
      );
      const method = z1 - z0 > 100 ? ('101' as const) : ('100' as const);
      return [...around, ...covered.map((p) => ({ ...p, method, around: false, name }))];
    });
}

/** Everything a leg lies in, stretch by stretch, in order and without gaps. `held`: as the take-off counts it. */
export function surroundings(
  input: ElectricalInput,
  leg: Leg,
  run: Run,
  cable: Cable,
  held: Held,
): Surrounding[] {
  const base = plain(input, input.fabrics.get(leg.storey), leg, run, cable, held);
  const over = laid(input, leg, cable);
  if (over.length === 0) return base;
  const cuts = [
    ...new Set([...base.flatMap((s) => [s.t0, s.t1]), ...over.flatMap((o) => [o.lo, o.hi])]),
  ].sort((x, y) => x - y);
  return cuts.slice(1).map((t1, i): Surrounding => {
    const t0 = cuts[i] as number;
    const t = (t0 + t1) / 2;
    const under = base.find((s) => s.t0 <= t && t <= s.t1) as Surrounding;
    const here = over.filter((o) => o.lo <= t && t <= o.hi);
    const round = here.filter((o) => o.around);
    if (round.length > 0) {
      // Several pieces of insulation that touch surround it as one.
      const lo = Math.min(...round.map((o) => o.lo));
      const hi = Math.max(...round.map((o) => o.hi));
      const length = (hi - lo) * leg.length;
      const why = `wholly surrounded by ${round.map((o) => o.name).join(' and ')} for ${Math.round(length)} mm`;
      return { t0, t1, method: 'C', surrounded: length, why };
    }
    const cover = here[0];
    return cover === undefined
      ? { ...under, t0, t1 }
      : {
          t0,
          t1,
          method: here.some((o) => o.method === '101') ? '101' : cover.method,
          surrounded: 0,
          why: `under ${cover.name}`,
        };
  });
}

import { facePlan } from '../fabric/lookup.ts';
import type { Fabric, Face, FaceId } from '../fabric/types.ts';
import type { Id, PlanDocument, Storey } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import { spotOf } from '../zones/spots.ts';
import type { RunFacts, ZoneContext } from '../zones/surfaces.ts';
import { addFaceLines, blockedOn, centreLines, type CentreLines, type FaceGrid } from './faceLines.ts';
import { beyondPartition, linkFaces } from './faceLinks.ts';
import { addCrossing, addLink, lineNet, priceNet, type LineNet, type PricedNet } from './lineNet.ts';
import type { Ways } from './types.ts';
import { addVoidLines, voidFacts, type Entry, type VoidFacts } from './voidLines.ts';

/** A priced net of all legal lines, and the crossing at which each point is reached (missing: not reachable). */
export interface LegalNet extends PricedNet {
  readonly terminals: ReadonlyMap<Id, number>;
}

/**
 * Points on top for a level metre on a wall, for ways that are to keep to a void: near neighbours at one height still go
 * straight to each other, all else by the void. Our own reckoning.
 */
const WALL_EXTRA = 5;

/**
 * The graph of legal lines for cables with these facts: centre lines of permitted zones on every face, voids square to
 * their joists, angles, plumb ways between walls and voids, and holes square through walls.
 */
export function legalNet(ctx: ZoneContext, facts: RunFacts, ways: Ways): LegalNet {
  const net = lineNet();
  const terminals = new Map<Id, number>();
  const halfBend = ctx.doc.job.routeCosts.bend / 2;
  const voids: VoidDraft[] = [];
  for (const storey of rows(ctx.doc.storeys)) {
    const fabric = ctx.fabrics.get(storey.id);
    if (fabric === undefined) continue;
    const grids = faceGrids(net, ctx, fabric, facts, ways.walls ? 0 : WALL_EXTRA);
    linkFaces(net, fabric, grids, ways.walls ? 0 : WALL_EXTRA);
    for (const point of rows(ctx.doc.points)) {
      const spot = spotOf(ctx.doc, ctx.fabrics, point.place);
      if (spot === null || spot.storey !== storey.id) continue;
      const at = grids.get(spot.face)?.at(spot.u, spot.z) ?? -1;
      if (at < 0) continue;
      // A termination of its own: half a bend to either heading, so that passing through is no cheaper than turning.
      const number = addCrossing(net, { on: 'face', ...spot });
      addLink(net, number, 0, at, 0, {}, halfBend);
      addLink(net, number, 0, at, 1, {}, halfBend);
      terminals.set(point.id, number);
    }
    for (const on of ['ceiling', 'floor'] as const) {
      const built = voidFacts(storey, on);
      if (ways[on] && built !== null) voids.push(voidDraft(ctx.doc, fabric, built, grids));
    }
  }
  linkVoids(net, ctx.doc, voids, terminals);
  return { ...priceNet(net, ctx.doc.job.routeCosts), terminals };
}

function faceGrids(
  net: LineNet,
  ctx: ZoneContext,
  fabric: Fabric,
  facts: RunFacts,
  levelExtra: number,
): Map<FaceId, FaceGrid> {
  const blocked = blockedOn(ctx.doc, fabric);
  const own = new Map<FaceId, CentreLines>();
  for (const face of fabric.faces.values()) {
    if (face.pieces.length > 0) own.set(face.id, centreLines(ctx, face));
  }
  const grids = new Map<FaceId, FaceGrid>();
  for (const [id, lines] of own) {
    const face = fabric.faces.get(id) as Face;
    const us = [...lines.us, 0, face.length];
    const zs = [...lines.zs, 0, Math.min(...face.top.map((p) => p.z))];
    for (const next of neighbours(fabric, face)) zs.push(...(own.get(next)?.zs ?? []));
    for (const o of face.opposite) {
      for (const v of own.get(o.face)?.us ?? []) {
        const u = o.u0 + (o.otherAtU0 - v);
        if (u >= o.u0 && u <= o.u1) us.push(u);
      }
      zs.push(...(own.get(o.face)?.zs ?? []));
    }
    const stops = blocked.get(id) ?? [];
    grids.set(id, addFaceLines(net, ctx, fabric, face, facts, { us, zs }, stops, levelExtra));
  }
  return grids;
}

/** Faces that share an angle with this one, and those that carry on behind a partition at either end. */
function neighbours(fabric: Fabric, face: Face): FaceId[] {
  const found = [face.left.next, face.right.next].filter((id): id is FaceId => id !== null);
  return [
    ...found,
    ...[beyondPartition(fabric, face, 'right'), beyondPartition(fabric, face, 'left')].flatMap((b) =>
      b === null ? [] : [b.face.id],
    ),
  ];
}

/** A void before its lines are drawn: where it is entered, and what each entry leads to. */
interface VoidDraft {
  readonly fabric: Fabric;
  readonly facts: VoidFacts;
  readonly entries: Entry[];
  /** Face crossings, beside the first entries. */
  readonly walls: readonly { readonly number: number; readonly metres: number; readonly timber: boolean }[];
  /** Points on its surface, by entry. */
  readonly points: readonly { readonly point: Id; readonly entry: number }[];
}

function voidDraft(
  doc: PlanDocument,
  fabric: Fabric,
  facts: VoidFacts,
  grids: ReadonlyMap<FaceId, FaceGrid>,
): VoidDraft {
  const { storey, on } = facts;
  const entries: Entry[] = [];
  const walls: VoidDraft['walls'][number][] = [];
  for (const { face, us, at } of grids.values()) {
    if (on === 'ceiling' && face.top.some((p) => Math.abs(p.z - storey.ceilingHeight) > 1)) continue;
    const z = on === 'ceiling' ? Math.min(...face.top.map((p) => p.z)) : 0;
    for (const u of us.slice(1, -1)) {
      const number = at(u, z);
      if (number < 0) continue;
      entries.push({ ...facePlan(face, u), trunk: u < 100 || u > face.length - 100 });
      const made = face.builds[face.pieces.findIndex((p) => u >= p.u0 && u <= p.u1)];
      walls.push({
        number,
        metres: depthBeyond(storey, on) / 1000,
        timber: made !== undefined && !made.metal && !made.masonry,
      });
    }
  }
  const points: VoidDraft['points'][number][] = [];
  for (const { id, place } of rows(doc.points)) {
    if (place.on !== on || place.storey !== storey.id) continue;
    points.push({ point: id, entry: entries.length });
    entries.push({ x: place.x, y: place.y, trunk: false });
  }
  return { fabric, facts, entries, walls, points };
}

/** From the surface of a ceiling or floor to the cables behind it, mm. */
const depthBeyond = (storey: Storey, on: 'ceiling' | 'floor'): number =>
  on === 'ceiling' ? storey.ceiling.cableRise : storey.floor.cableDrop;

/** Height of the cables in a void above the datum, mm. */
const levelOf = ({ storey, on }: VoidFacts): number =>
  on === 'ceiling'
    ? storey.level + storey.ceilingHeight + storey.ceiling.cableRise
    : storey.level - storey.floor.cableDrop;

/** Draws the lines of the voids and joins them to walls, to points, and the void over a storey to the floor above. */
function linkVoids(
  net: LineNet,
  doc: PlanDocument,
  voids: readonly VoidDraft[],
  terminals: Map<Id, number>,
): void {
  const drawn = new Map<VoidDraft, number[]>();
  for (const draft of voids.filter((v) => v.facts.on === 'floor')) {
    drawn.set(draft, addVoidLines(net, doc, draft.fabric, draft.facts, draft.entries));
  }
  for (const draft of voids.filter((v) => v.facts.on === 'ceiling')) {
    const above = voids
      .filter((v) => v.facts.on === 'floor' && v.facts.storey.level > draft.facts.storey.level)
      .sort((a, b) => a.facts.storey.level - b.facts.storey.level)[0];
    const entries = above === undefined ? draft.entries : [...draft.entries, ...above.entries];
    const numbers = addVoidLines(net, doc, draft.fabric, draft.facts, entries);
    drawn.set(draft, numbers);
    if (above === undefined) continue;
    const metres = Math.abs(levelOf(above.facts) - levelOf(draft.facts)) / 1000;
    (drawn.get(above) as number[]).forEach((up, i) => {
      const down = numbers[draft.entries.length + i] as number;
      if (up < 0 || down < 0) return;
      addLink(net, up, 0, down, 0, { metres, bends: 2 });
      addLink(net, up, 1, down, 1, { metres, bends: 2 });
    });
  }
  for (const [draft, numbers] of drawn) {
    const link = (from: number, heading: 0 | 1, to: number, count: object): void => {
      if (to < 0) return;
      addLink(net, from, heading, to, 0, count);
      addLink(net, from, heading, to, 1, count);
    };
    draft.walls.forEach(({ number, metres, timber }, i) =>
      link(number, 1, numbers[i] as number, { metres, drops: 1, bends: 1, timberHoles: timber ? 1 : 0 }),
    );
    const { on, storey } = draft.facts;
    for (const { point, entry } of draft.points) {
      const { x, y } = draft.entries[entry] as Entry;
      const number = addCrossing(net, { on, storey: storey.id, x, y });
      link(number, 0, numbers[entry] as number, { metres: depthBeyond(storey, on) / 1000, bends: 1 });
      if ((numbers[entry] as number) >= 0) terminals.set(point, number);
    }
  }
}

import { bathroomZone as zoneAround, type InZone, type Water } from '../../electrical/bathroomZones.ts';
import { BATHROOM, BATHROOM_SOCKET } from '../../electrical/tables/siting.ts';
import { faceAt, facePlan } from '../../fabric/lookup.ts';
import type { Circuit, Point, Storey, Thing } from '../../model/document.ts';
import { plateOf, POINT_KINDS } from '../../model/pointKinds.ts';
import { rows } from '../../model/tables.ts';
import type { Mm, PlanPoint } from '../../model/units.ts';
import { hasRcd30 } from '../../zones/surfaces.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { mm, placeOfPoint, pointName } from '../words.ts';
import { middleOf, pointsIn, roomHolding } from './siting.ts';
import { agreed, remembered } from '../../model/evidence.ts';

interface NearBath extends InZone {
  readonly point: Point;
  /** Height of its lowest edge above the floor. */
  readonly z: Mm;
}

const WATER: ReadonlySet<Thing['kind']> = new Set(['bath', 'shower', 'shower-head']);

/** Plan outline of a thing; for one drawn on a wall, its stretch of the wall. */
function outlineOf(ctx: CheckContext, storey: Storey, { place }: Thing): readonly PlanPoint[] {
  if (place.on === 'plan') return place.storey === storey.id ? place.outline : [];
  const fabric = ctx.fabrics.get(storey.id);
  const ends = [place.along0, place.along1].map((along) =>
    fabric === undefined ? null : faceAt(fabric, place.wall, place.side, along),
  );
  return ends.flatMap((hit) => (hit === null ? [] : [facePlan(hit.face, hit.u)]));
}

/** Baths and showers of a storey by the room that holds their middle. */
function watersOf(ctx: CheckContext, storey: Storey): { readonly room: string; readonly water: Water }[] {
  return rows(ctx.doc.things).flatMap((thing) => {
    const outline = WATER.has(thing.kind) ? outlineOf(ctx, storey, thing) : [];
    const room = outline.length === 0 ? null : roomHolding(ctx, storey, outline);
    if (room === null) return [];
    const [z0, z1] = [thing.place.z0, thing.place.z1];
    const water: Water =
      thing.kind === 'shower-head'
        ? { kind: 'head', at: middleOf(outline), z: Math.max(z0, z1) }
        : { kind: 'tray', outline, rim: Math.max(z0, z1) };
    return [{ room, water }];
  });
}

/** The level stretch and lowest edge of a point: of its whole plate where it has one. */
function extentOf(
  ctx: CheckContext,
  storey: Storey,
  point: Point,
  at: PlanPoint,
): { readonly a: PlanPoint; readonly b: PlanPoint; readonly z: Mm } {
  const { place } = point;
  const spot = ctx.spots.get(point.id);
  const face = spot && ctx.fabrics.get(storey.id)?.faces.get(spot.face);
  if (place.on !== 'face' || spot === undefined || face === undefined) {
    const z = place.on === 'ceiling' ? storey.ceilingHeight : place.on === 'free' ? place.z : 0;
    return { a: at, b: at, z };
  }
  const plate = plateOf(point) ?? { width: 0, height: 0 };
  return {
    a: facePlan(face, spot.u - plate.width / 2),
    b: facePlan(face, spot.u + plate.width / 2),
    z: spot.z - plate.height / 2,
  };
}

/** Points in rooms with a bath or shower and their zone. Zones end at walls (701.32). */
function nearBaths(ctx: CheckContext, storey: Storey): NearBath[] {
  const waters = watersOf(ctx, storey);
  if (waters.length === 0) return [];
  return pointsIn(ctx, storey, () => true).flatMap(({ point, at, room }) => {
    const own = waters.filter((w) => w.room === room.id).map((w) => w.water);
    if (own.length === 0) return [];
    const { a, b, z } = extentOf(ctx, storey, point, at);
    return [{ point, z, ...zoneAround(a, b, z, own) }];
  });
}

/** Socket-outlets keep 2.5 m from zone 1 (3 m before amendment 2). */
export const bathroomSocket: Rule<'storey'> = {
  id: 'bathroom-socket',
  title: 'Socket-outlet too near a bath or shower',
  looksAt: 'storey',
  severity: 'error',
  stage: 'points',
  source: (rules) => agreed(`${rules.name} 701.512.3`),
  find: (ctx, storey) => {
    const limit = BATHROOM_SOCKET.values[ctx.rules.edition];
    return nearBaths(ctx, storey)
      .filter(({ point, from }) => point.kind === 'socket' && from < limit - 1e-6)
      .map(({ point, from }) => ({
        about: point.id,
        point: point.id,
        at: placeOfPoint(ctx, point),
        message: `The ${pointName(point)} is ${mm(from)} from the edge of zone 1 of a bath or shower; ${limit} mm is kept.`,
        fix: 'Move it out of the room, or that far away.',
      }));
  },
};

/** Told by a rule of their own: sockets by their distance, lights and fans by what they must be made for. */
const OWN_RULE = (point: Point): boolean =>
  point.kind === 'socket' || point.kind === 'extractor' || POINT_KINDS[point.kind].isLight;

const zoneWords = ({ zone, from, z, head }: NearBath): string =>
  `in zone ${zone} of a ${head ? 'shower with no tray' : 'bath or shower'}: ${mm(from)} from the edge of zone 1, its lowest edge ${mm(z)} up`;

/** Accessories in zones 0 to 2, by their whole plate: joint boxes, data outlets and bodies of pull switches too. */
export const bathroomZone: Rule<'storey'> = {
  id: 'bathroom-zone',
  title: 'Accessory in a bathroom zone',
  looksAt: 'storey',
  severity: 'error',
  stage: 'points',
  source: (rules) => agreed(`${rules.name} 701.32 and 701.512; ${BATHROOM.source}`),
  find: (ctx, storey) => {
    const { zone1Height, zone2Beyond } = BATHROOM.values;
    return nearBaths(ctx, storey)
      .filter(({ point, zone }) => zone !== null && !OWN_RULE(point))
      .map((near): Draft => ({
        about: near.point.id,
        point: near.point.id,
        at: placeOfPoint(ctx, near.point),
        message: `The ${pointName(near.point)} is ${zoneWords(near)}.`,
        fix: `Move it more than ${zone2Beyond} mm from the edge or above ${zone1Height} mm; ask your electrician.`,
      }));
  },
};

/** Lights and fans in the zones: what is written on them decides, and the plan does not hold that. */
export const bathroomIp: Rule<'storey'> = {
  id: 'bathroom-ip',
  title: 'Light or fan in a bathroom zone',
  looksAt: 'storey',
  severity: 'warning',
  stage: 'points',
  source: (rules) => remembered(`${rules.name} 701.512.2 and 701.55`),
  find: (ctx, storey) =>
    nearBaths(ctx, storey)
      .filter(({ point, zone }) => zone !== null && point.kind !== 'socket' && OWN_RULE(point))
      .map((near): Draft => ({
        about: near.point.id,
        point: near.point.id,
        at: placeOfPoint(ctx, near.point),
        message: `The ${pointName(near.point)} is ${zoneWords(near)}: ${near.zone === 0 ? 'there it must be IPX7 and of 12 V at most' : 'there it must be IPX4 at least and made for that zone'}. Not checked.`,
        fix: 'Look at its marking and its maker’s instructions, and accept this with what they say; or move it out of the zone.',
      })),
};

/** A bathroom with nothing drawn that makes zones: said once, so that silence is no pass. */
export const bathroomNotChecked: Rule<'storey'> = {
  id: 'bathroom-not-checked',
  title: 'Bathroom with no bath or shower drawn',
  looksAt: 'storey',
  severity: 'disputed',
  stage: 'points',
  source: (rules) => agreed(`${rules.name} 701.32; ${BATHROOM.source}`),
  find: (ctx, storey) => {
    const wet = new Set(watersOf(ctx, storey).map((w) => w.room));
    return [...(ctx.fabrics.get(storey.id)?.rooms.values() ?? [])].flatMap((room): Draft[] => {
      if (room.tag?.use !== 'bathroom' || wet.has(room.id)) return [];
      return [
        {
          about: room.tag.id,
          at: { storey: storey.id, plan: { x: room.tag.x, y: room.tag.y }, face: null, on: null },
          message: `${room.tag.name} is a bathroom with no bath or shower drawn: its zones, and what stands in it, are not checked.`,
          fix: 'Draw the bath, the shower tray or the shower head under Fabric; where there is none, accept this and say so.',
        },
      ];
    });
  },
};

/** Circuits of a room with a bath or shower. Sockets and lights have rules of their own, told instead of this one. */
export const bathroomNoRcd: Rule<'storey'> = {
  id: 'bathroom-no-rcd',
  title: 'Bathroom circuit without a 30 mA RCD',
  looksAt: 'storey',
  severity: 'error',
  stage: 'circuits',
  source: (rules) => remembered(`${rules.name} 701.411.3.3`),
  find: (ctx, storey) => {
    const found = new Map<string, { circuit: Circuit; point: Point }>();
    for (const { point } of nearBaths(ctx, storey)) {
      const circuit = ctx.doc.circuits.byId[point.circuit ?? ''];
      if (circuit === undefined || found.has(circuit.id) || hasRcd30(ctx.rules, circuit)) continue;
      const points = (ctx.circuitPoints.get(circuit.id) ?? []).flatMap((id) => ctx.doc.points.byId[id] ?? []);
      if (points.some((p) => p.kind === 'socket' || POINT_KINDS[p.kind].isLight)) continue;
      found.set(circuit.id, { circuit, point });
    }
    return [...found.values()].map(({ circuit, point }) => ({
      about: `${storey.id}:${circuit.id}`,
      circuit: circuit.id,
      point: point.id,
      at: placeOfPoint(ctx, point),
      message: `Circuit ${circuit.label} feeds the ${pointName(point)} in a room with a bath or shower and has no 30 mA RCD.`,
      fix: 'Give the circuit an RCD of 30 mA or less; the designer decides.',
    }));
  },
};

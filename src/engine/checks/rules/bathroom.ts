import { fromOutline } from '../../electrical/apart.ts';
import { BATHROOM, BATHROOM_SOCKET } from '../../electrical/tables/siting.ts';
import type { Circuit, Point, Storey } from '../../model/document.ts';
import { POINT_KINDS } from '../../model/pointKinds.ts';
import { rows } from '../../model/tables.ts';
import type { Mm } from '../../model/units.ts';
import { hasRcd30 } from '../../zones/surfaces.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { mm, placeOfPoint, pointName } from '../words.ts';
import { pointsIn, roomHolding } from './siting.ts';
import { agreed, remembered } from '../../model/evidence.ts';

interface NearBath {
  readonly point: Point;
  /** Level distance from the edge of the bath or tray; 0 above it. */
  readonly from: Mm;
  /** Height above the floor. */
  readonly z: Mm;
}

/** Points in rooms with a bath or shower and how far from its edge they are. Zones end at walls (701.32). */
function nearBaths(ctx: CheckContext, storey: Storey): NearBath[] {
  const baths = rows(ctx.doc.things).flatMap(({ kind, place }) =>
    (kind === 'bath' || kind === 'shower') && place.on === 'plan' && place.storey === storey.id
      ? [{ outline: place.outline, room: roomHolding(ctx, storey, place.outline) }]
      : [],
  );
  if (baths.length === 0) return [];
  return pointsIn(ctx, storey, () => true).flatMap(({ point, at, room }) => {
    const own = baths.filter((b) => b.room === room.id);
    if (own.length === 0) return [];
    const { place } = point;
    const z =
      place.on === 'face' || place.on === 'free'
        ? place.z
        : place.on === 'ceiling'
          ? storey.ceilingHeight
          : 0;
    return [{ point, from: Math.min(...own.map((b) => fromOutline(at, at, b.outline))), z }];
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

/** What may be in the zones by its kind: lights, fans and pull cords made for them. */
const MADE_FOR = new Set<Point['kind']>([
  'ceiling-light',
  'wall-light',
  'extractor',
  'switch-pull',
  'joint',
  'data',
]);

/** Accessories in zones 1 and 2. Sockets have a rule of their own. */
export const bathroomZone: Rule<'storey'> = {
  id: 'bathroom-zone',
  title: 'Accessory in a bathroom zone',
  looksAt: 'storey',
  severity: 'error',
  stage: 'points',
  source: (rules) => agreed(`${rules.name} 701.32 and 701.512; ${BATHROOM.source}`),
  find: (ctx, storey) => {
    const { zone1Height, zone2Beyond } = BATHROOM.values;
    return nearBaths(ctx, storey).flatMap(({ point, from, z }): Draft[] => {
      if (point.kind === 'socket' || MADE_FOR.has(point.kind) || z > zone1Height || from > zone2Beyond)
        return [];
      const zone = from === 0 ? 'zone 1' : 'zone 2';
      return [
        {
          about: point.id,
          point: point.id,
          at: placeOfPoint(ctx, point),
          message: `The ${pointName(point)} is in ${zone} of a bath or shower: ${mm(from)} from its edge, ${mm(z)} up.`,
          fix: `Move it more than ${zone2Beyond} mm from the edge or above ${zone1Height} mm; ask your electrician.`,
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

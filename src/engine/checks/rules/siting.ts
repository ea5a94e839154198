import { fromOutline } from '../../electrical/apart.ts';
import { roomOfPoint } from '../../electrical/facts.ts';
import { sourceOf } from '../../electrical/tables/cited.ts';
import { HEAT, HOB, SINK, SMOKE } from '../../electrical/tables/siting.ts';
import { facePlan } from '../../fabric/lookup.ts';
import { farthestSpot } from '../../geometry/farthest.ts';
import type { Fabric, Room } from '../../fabric/types.ts';
import type { Point, PointKind, Storey, Thing } from '../../model/document.ts';
import { POINT_KINDS } from '../../model/pointKinds.ts';
import { rows } from '../../model/tables.ts';
import type { Mm, PlanPoint } from '../../model/units.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { mm, placeOfPoint, pointName } from '../words.ts';
import { remembered, type Source } from '../../model/evidence.ts';

const apart = (a: PlanPoint, b: PlanPoint): Mm => Math.hypot(a.x - b.x, a.y - b.y);
const isAlarm = (p: Point): boolean => p.kind === 'smoke-alarm' || p.kind === 'heat-alarm';

/** Where figures of alarms come from: an Approved Document is cited in England only. */
export const alarmSource = (ctx: CheckContext): Source =>
  ctx.doc.job.nation === 'england' ? sourceOf(SMOKE) : { ...sourceOf(SMOKE), text: 'BS 5839-6' };

/** Points of a storey with their place in plan and the room they are in, of those that are wanted, in order. */
export function pointsIn(
  ctx: CheckContext,
  storey: Storey,
  wanted: (point: Point) => boolean,
): { readonly point: Point; readonly at: PlanPoint; readonly room: Room }[] {
  return rows(ctx.doc.points).flatMap((point) => {
    if (!wanted(point)) return [];
    const place = placeOfPoint(ctx, point);
    if (place?.storey !== storey.id || place.plan === null) return [];
    const in_ = roomOfPoint(ctx, point);
    const room = in_ === null ? undefined : in_.fabric.rooms.get(in_.room);
    return room === undefined ? [] : [{ point, at: place.plan, room }];
  });
}

/** 300 mm from any wall and from any light, for alarms on ceilings. */
export const alarmTooNear: Rule<'storey'> = {
  id: 'alarm-too-near',
  title: 'Alarm too near a wall or a light',
  looksAt: 'storey',
  severity: 'warning',
  stage: 'points',
  source: () => sourceOf(SMOKE),
  find: (ctx, storey) => {
    const limit = SMOKE.values.fromWallOrLight;
    const alarms = pointsIn(ctx, storey, (p) => isAlarm(p) && p.place.on === 'ceiling');
    if (alarms.length === 0) return [];
    const lights = pointsIn(ctx, storey, (p) => POINT_KINDS[p.kind].isLight);
    return alarms.flatMap(({ point, at, room }): Draft[] => {
      const wall = Math.min(...[room.outline, ...room.holes].map((ring) => edgeDistance(at, ring)));
      const light = lights
        .filter((o) => o.room.id === room.id)
        .map((o) => ({ label: o.point.label, distance: apart(at, o.at) }))
        .reduce((a, b) => (b.distance < a.distance ? b : a), { label: '', distance: Infinity });
      const [distance, what] =
        wall <= light.distance ? [wall, 'a wall'] : [light.distance, `the light ${light.label}`];
      if (distance >= limit - 1e-6) return [];
      return [
        {
          about: point.id,
          source: alarmSource(ctx),
          point: point.id,
          at: placeOfPoint(ctx, point),
          message: `The ${pointName(point)} is ${mm(distance)} from ${what}; ${limit} mm is kept.`,
          fix: 'Move the alarm, or the light.',
        },
      ];
    });
  },
};

function edgeDistance(p: PlanPoint, ring: readonly PlanPoint[]): Mm {
  let least = Infinity;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length] as PlanPoint;
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    const square = dx * dx + dy * dy;
    const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square));
    least = Math.min(least, Math.hypot(a.x + dx * t - p.x, a.y + dy * t - p.y));
  });
  return least;
}

interface Door {
  readonly at: PlanPoint;
  /** The room behind, and its use. */
  readonly behind: string | null;
  readonly use: string | undefined;
  readonly id: string;
}

/** Doors of a room and the use of the room behind each. */
export function doorsOf(fabric: Fabric, room: Room): Door[] {
  const loops = [room.faces, ...room.islands].flat();
  return loops.flatMap((id) => {
    const face = fabric.faces.get(id);
    if (face === undefined) return [];
    return face.openings
      .filter((o) => o.kind !== 'window')
      .map((o) => {
        const u = (o.u0 + o.u1) / 2;
        const behind = face.opposite.find((x) => x.u0 <= u && u <= x.u1);
        const other = fabric.faces.get(behind?.face ?? '')?.room;
        return {
          at: facePlan(face, u),
          use: other ? fabric.rooms.get(other)?.tag?.use : undefined,
          behind: other ?? null,
          id: o.id,
        };
      });
  });
}

/** In a circulation space no door of a habitable room or kitchen is more than 7.5 m from the nearest smoke alarm. */
export const alarmCoverage: Rule<'storey'> = {
  id: 'alarm-coverage',
  title: 'Door too far from a smoke alarm',
  looksAt: 'storey',
  severity: 'warning',
  stage: 'points',
  source: () => sourceOf(SMOKE),
  find: (ctx, storey) => {
    const fabric = ctx.fabrics.get(storey.id);
    if (fabric === undefined) return [];
    const smoke = pointsIn(ctx, storey, (p) => p.kind === 'smoke-alarm');
    const limit = SMOKE.values.toDoor;
    return [...fabric.rooms.values()].flatMap((room): Draft[] => {
      const own = smoke.filter((s) => s.room.id === room.id);
      if (room.tag?.use !== 'circulation' || own.length === 0) return [];
      return doorsOf(fabric, room)
        .filter((d) => d.use === 'habitable' || d.use === 'kitchen')
        .flatMap((door): Draft[] => {
          const near = own.reduce((a, b) => (apart(b.at, door.at) < apart(a.at, door.at) ? b : a));
          const distance = apart(near.at, door.at);
          if (distance <= limit + 1e-6) return [];
          return [
            {
              about: `${storey.id}:${door.id}`,
              source: alarmSource(ctx),
              point: near.point.id,
              at: { storey: storey.id, plan: door.at, face: null, on: null },
              message: `A door of a habitable room is ${(distance / 1000).toFixed(2)} m from the ${pointName(near.point)} of ${room.tag?.name ?? 'its room'}, the nearest; ${limit / 1000} m at most.`,
              fix: 'Add a smoke alarm, or move it nearer.',
            },
          ];
        });
    });
  },
};

/** No part of its room more than 5.3 m from a heat alarm. */
export const heatAlarmFar: Rule<'storey'> = {
  id: 'heat-alarm-far',
  title: 'Room reaches too far from its heat alarm',
  looksAt: 'storey',
  severity: 'warning',
  stage: 'points',
  source: () => sourceOf(HEAT),
  find: (ctx, storey) => {
    const alarms = pointsIn(ctx, storey, (p) => p.kind === 'heat-alarm');
    const rooms = new Map(alarms.map((a) => [a.room.id, a.room]));
    return [...rooms.values()].flatMap((room): Draft[] => {
      const own = alarms.filter((a) => a.room.id === room.id);
      const [first] = own;
      if (first === undefined) return [];
      const spot = farthestSpot(
        room.outline,
        room.holes,
        own.map((a) => a.at),
      );
      const farthest = spot?.distance ?? 0;
      if (farthest <= HEAT.values.farthest + 1e-6) return [];
      return [
        {
          about: first.point.id,
          point: first.point.id,
          at: placeOfPoint(ctx, first.point),
          message: `A part of ${room.tag?.name ?? 'the room'} is ${(farthest / 1000).toFixed(2)} m from the ${pointName(first.point)}; ${HEAT.values.farthest / 1000} m at most.`,
          fix: 'Move the alarm to the middle of the room, or add one.',
        },
      ];
    });
  },
};

/** Alarms on several circuits share no cable to link them by. */
export const alarmsNotLinked: Rule<'storey'> = {
  id: 'alarms-not-linked',
  title: 'Alarms that no cable links',
  looksAt: 'storey',
  severity: 'warning',
  stage: 'circuits',
  source: () => remembered('Approved Document B and BS 5839-6 (alarms linked)'),
  find: (ctx, storey) => {
    if (storey.id !== ctx.doc.storeys.order[0]) return [];
    const alarms = rows(ctx.doc.points).filter((p) => isAlarm(p) && p.circuit !== null);
    const [first] = alarms;
    const odd = alarms.find((p) => p.circuit !== first?.circuit);
    if (first === undefined || odd === undefined) return [];
    const circuits = [...new Set(alarms.map((p) => ctx.doc.circuits.byId[p.circuit ?? '']?.label ?? ''))];
    return [
      {
        about: storey.id,
        source: remembered(`${alarmSource(ctx).text} (alarms linked)`),
        point: odd.id,
        at: placeOfPoint(ctx, odd),
        message: `The alarms are on circuits ${circuits.join(' and ')}: no cable between them links them.`,
        fix: 'Put them on one circuit with a core to link them, or use alarms that link by radio and accept this with that reason.',
      },
    ];
  },
};

const ACCESSORIES: ReadonlySet<PointKind> = new Set([
  'socket',
  'fused-spur',
  'heavy-outlet',
  'switch-1way',
  'switch-2way',
  'switch-intermediate',
]);

/** Accessories near things of a kind, measured level in plan. */
function near(ctx: CheckContext, storey: Storey, kind: Thing['kind'], limit: Mm, what: string): Draft[] {
  const things = rows(ctx.doc.things).filter((t) => t.kind === kind);
  if (things.length === 0) return [];
  return pointsIn(ctx, storey, (p) => ACCESSORIES.has(p.kind)).flatMap(({ point, at, room }): Draft[] => {
    let least = Infinity;
    for (const { place } of things) {
      if (place.on !== 'plan' || place.storey !== storey.id || place.where !== 'room') continue;
      const [corner] = place.outline;
      // Behind a wall it is another room's.
      if (corner === undefined || roomHolding(ctx, storey, place.outline) !== room.id) continue;
      least = Math.min(least, fromOutline(at, at, place.outline));
    }
    if (least >= limit - 1e-6) return [];
    return [
      {
        about: point.id,
        point: point.id,
        at: placeOfPoint(ctx, point),
        message: `The ${pointName(point)} is ${mm(least)} from ${what}, level; ${limit} mm is kept.`,
        fix: `Move it to ${limit} mm or more, or accept it with the reason.`,
      },
    ];
  });
}

/** The mean of an outline's corners. */
export const middleOf = (outline: readonly PlanPoint[]): PlanPoint => ({
  x: outline.reduce((s, p) => s + p.x, 0) / outline.length,
  y: outline.reduce((s, p) => s + p.y, 0) / outline.length,
});

/** The room the middle of an outline is in. */
export function roomHolding(ctx: CheckContext, storey: Storey, outline: readonly PlanPoint[]): string | null {
  const { x, y } = middleOf(outline);
  for (const room of ctx.fabrics.get(storey.id)?.rooms.values() ?? []) {
    if (fromOutline({ x, y }, { x, y }, room.outline) === 0) return room.id;
  }
  return null;
}

export const nearSink: Rule<'storey'> = {
  id: 'near-sink',
  title: 'Accessory near a sink',
  looksAt: 'storey',
  severity: 'warning',
  stage: 'points',
  source: () => sourceOf(SINK),
  find: (ctx, storey) => near(ctx, storey, 'sink', SINK.values, 'a sink'),
};

export const nearHob: Rule<'storey'> = {
  id: 'near-hob',
  title: 'Accessory near a hob',
  looksAt: 'storey',
  severity: 'warning',
  stage: 'points',
  source: () => sourceOf(HOB),
  find: (ctx, storey) => near(ctx, storey, 'hob', HOB.values, 'a hob'),
};

import { SMOKE } from '../../electrical/tables/siting.ts';
import type { Room } from '../../fabric/types.ts';
import { farthestSpot } from '../../geometry/farthest.ts';
import type { Nation, Storey } from '../../model/document.ts';
import { remembered } from '../../model/evidence.ts';
import { rows } from '../../model/tables.ts';
import type { PlanPoint } from '../../model/units.ts';
import type { CheckContext, Draft, Rule } from '../rule.ts';
import { list } from '../words.ts';
import { alarmSource, doorsOf, pointsIn } from './siting.ts';

const isAlarm = (kind: string): boolean => kind === 'smoke-alarm' || kind === 'heat-alarm';

interface StoreyAlarms {
  readonly rooms: readonly Room[];
  /** Places of alarms of a kind in a room. */
  readonly of: (room: Room, kind: 'smoke-alarm' | 'heat-alarm') => readonly PlanPoint[];
}

/** Rooms and alarms of a storey; no rooms while no point of any kind stands on it: nothing was placed yet. */
function alarmsOf(ctx: CheckContext, storey: Storey): StoreyAlarms {
  const points = pointsIn(ctx, storey, () => true);
  return {
    rooms: points.length === 0 ? [] : [...(ctx.fabrics.get(storey.id)?.rooms.values() ?? [])],
    of: (room, kind) => points.filter((p) => p.room.id === room.id && p.point.kind === kind).map((p) => p.at),
  };
}

const nameOf = (room: Room): string => room.tag?.name ?? 'a room without a name';

/** A finding about a room, at the place of its name. */
const ofRoom = (ctx: CheckContext, room: Room, message: string, fix: string): Draft => ({
  about: room.tag?.id ?? room.id,
  // The distances are published; what they are held to here, and which rooms, is from memory.
  source: remembered(alarmSource(ctx).text),
  at: {
    storey: room.storey,
    plan: room.tag === null ? null : { x: room.tag.x, y: room.tag.y },
    face: null,
    on: null,
  },
  message,
  fix,
});

/** No part of a circulation space more than 7.5 m from a smoke alarm: of the whole floor, not of its corners and doors only. */
export const smokeAlarmFar: Rule<'storey'> = {
  id: 'smoke-alarm-far',
  title: 'Escape route reaches too far from its smoke alarm',
  looksAt: 'storey',
  severity: 'warning',
  stage: 'points',
  source: () => remembered(SMOKE.source),
  find: (ctx, storey) => {
    const { rooms, of } = alarmsOf(ctx, storey);
    return rooms.flatMap((room): Draft[] => {
      if (room.tag?.use !== 'circulation') return [];
      const far = farthestSpot(room.outline, room.holes, of(room, 'smoke-alarm'));
      if (far === null || far.distance <= SMOKE.values.toDoor + 1e-6) return [];
      const message = `A part of ${nameOf(room)} is ${(far.distance / 1000).toFixed(2)} m from the nearest smoke alarm in it; ${SMOKE.values.toDoor / 1000} m at most (published for doors; held here for the whole floor, the stricter reading).`;
      return [
        {
          ...ofRoom(ctx, room, message, 'Add a smoke alarm, or move it to the middle.'),
          at: { storey: storey.id, plan: far.at, face: null, on: null },
        },
      ];
    });
  },
};

/** Rooms of a use in which an alarm of a kind is missing. */
const withoutAlarm = (
  id: string,
  title: string,
  use: 'circulation' | 'kitchen',
  kind: 'smoke-alarm' | 'heat-alarm',
  said: { readonly message: string; readonly fix: string },
): Rule<'storey'> => ({
  id,
  title,
  looksAt: 'storey',
  severity: 'warning',
  stage: 'points',
  source: () => remembered(SMOKE.source),
  find: (ctx, storey) => {
    const { rooms, of } = alarmsOf(ctx, storey);
    return rooms
      .filter((room) => room.tag?.use === use && of(room, kind).length === 0)
      .map((room) => ofRoom(ctx, room, `${nameOf(room)} ${said.message}`, said.fix));
  },
});

export const escapeNoAlarm = withoutAlarm(
  'escape-no-alarm',
  'No smoke alarm on an escape route',
  'circulation',
  'smoke-alarm',
  {
    message: 'is a way out and has no smoke alarm.',
    fix: 'Place a smoke alarm on its ceiling, or accept this with the reason.',
  },
);

export const kitchenNoHeatAlarm = withoutAlarm(
  'kitchen-no-heat-alarm',
  'No heat alarm in a kitchen',
  'kitchen',
  'heat-alarm',
  {
    message: 'is a kitchen and has no heat alarm.',
    fix: 'Place a heat alarm on its ceiling, or accept this with the reason.',
  },
);

/** A habitable room with no alarm, none of whose doors opens on a circulation space that has a smoke alarm. */
export const roomOutOfReach: Rule<'storey'> = {
  id: 'room-out-of-reach',
  title: 'Room beyond reach of any alarm',
  looksAt: 'storey',
  severity: 'warning',
  stage: 'points',
  source: () => remembered(SMOKE.source),
  find: (ctx, storey) => {
    const { rooms, of } = alarmsOf(ctx, storey);
    const fabric = ctx.fabrics.get(storey.id);
    if (fabric === undefined) return [];
    // A room drawn by itself, without its way out, is nothing to judge its alarms by.
    const judged = rooms.some(
      (room) =>
        room.tag?.use === 'circulation' || of(room, 'smoke-alarm').length + of(room, 'heat-alarm').length > 0,
    );
    if (!judged) return [];
    const reached = new Set<string>();
    for (const room of rooms) {
      if (room.tag?.use !== 'circulation' || of(room, 'smoke-alarm').length === 0) continue;
      for (const door of doorsOf(fabric, room)) if (door.behind !== null) reached.add(door.behind);
    }
    return rooms
      .filter(
        (room) =>
          room.tag?.use === 'habitable' &&
          !reached.has(room.id) &&
          of(room, 'smoke-alarm').length + of(room, 'heat-alarm').length === 0,
      )
      .map((room) =>
        ofRoom(
          ctx,
          room,
          `${nameOf(room)} has no alarm, and no door of it opens on a way out that has one.`,
          'Place an alarm in it, or on the way out its door opens on.',
        ),
      );
  },
};

const NATION: Readonly<Record<Nation, string>> = {
  england: 'England',
  wales: 'Wales',
  scotland: 'Scotland',
  'northern-ireland': 'Northern Ireland',
  elsewhere: 'this country',
};

/** What England publishes is not the rule elsewhere: what is not known there is said once. */
export const guidanceNotHeld: Rule<'storey'> = {
  id: 'guidance-not-held',
  title: 'Guidance of this nation not held',
  looksAt: 'storey',
  severity: 'disputed',
  stage: 'points',
  source: () => remembered('the building regulations and guidance of that nation'),
  find: (ctx, storey) => {
    const { nation, newDwelling } = ctx.doc.job;
    if (nation === 'england' || storey.id !== ctx.doc.storeys.order[0]) return [];
    const alarms = rows(ctx.doc.points).some((p) => isAlarm(p.kind));
    const what = [
      ...(newDwelling ? ['heights of sockets, switches and boards in a new dwelling'] : []),
      ...(alarms || newDwelling ? ['which alarms are asked for, and how they are linked'] : []),
    ];
    if (what.length === 0) return [];
    return [
      {
        about: storey.id,
        at: { storey: storey.id, plan: null, face: null, on: null },
        message: `The published guidance of ${NATION[nation]} is not held here, and England’s is not its rule. Not checked: ${list(what)}.`,
        fix: 'Look the guidance of that nation up, and accept this with what it asks for.',
      },
    ];
  },
};

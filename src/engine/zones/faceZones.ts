import { degrees } from '../geometry/angle.ts';
import type { Fabric, Face, FaceEnd, FaceId, Opposite } from '../fabric/types.ts';
import type { PlanDocument } from '../model/document.ts';
import { plateGuessed, plateOf } from '../model/pointKinds.ts';
import type { Mm } from '../model/units.ts';
import { convex, ROUNDING, type Convex } from './convex.ts';
import { EDITIONS, type EditionRules } from './editions.ts';
import { onFace, topStretches } from './faceOutline.ts';
import { pointsByFace, type FacePointRecord } from './spots.ts';
import type { Zone, ZoneSource } from './types.ts';

type ZoneFacts = Pick<Zone, 'source' | 'status' | 'why'> &
  Partial<Pick<Zone, 'point' | 'circuit' | 'reverse' | 'unasked'>>;

const zone = (face: FaceId, shape: Convex, facts: ZoneFacts): Zone => ({
  face,
  point: null,
  circuit: null,
  unasked: false,
  reverse: false,
  ...facts,
  ...shape,
});

/** The band under the top: permitted where the top is level, disputed where it slopes (no published ruling). */
function topBands(face: Face, rules: EditionRules): Zone[] {
  const band = rules.topBand;
  return topStretches(face).flatMap(({ p, q, level }) => {
    if (level) {
      return onFace(face, p.u, q.u, p.z - band, p.z).map((shape) =>
        zone(face.id, shape, {
          source: 'top',
          status: 'permitted',
          why: `Within ${band} mm of the top of the wall.`,
        }),
      );
    }
    const shape = convex([{ u: p.u, z: p.z - band }, { u: q.u, z: q.z - band }, q, p]);
    return [
      zone(face.id, shape, {
        source: 'top',
        status: 'disputed',
        why: `Within ${band} mm of a sloping top: no published ruling, ask your certifier.`,
      }),
    ];
  });
}

/** A bend of less than this is no angle that everyone would find on the wall: common practice, no source. */
const PLAIN_ANGLE = degrees(10);

/** What is said of an angle at the end of a face; null where it makes no band. */
function angleFacts(end: FaceEnd, band: Mm): Pick<Zone, 'status' | 'why'> | null {
  if (end.kind !== 'internal' && end.kind !== 'external') return null;
  const why = `Within ${band} mm of an ${end.kind} angle between walls.`;
  if (Math.abs(end.angle - Math.PI) < PLAIN_ANGLE) {
    return {
      status: 'disputed',
      why: `${why} The walls bend by less than 10°: whether that is an angle nobody has ruled; ask your certifier.`,
    };
  }
  if (end.kind === 'external') {
    return {
      status: 'disputed',
      why: `${why} 522.6.202 says only "an angle formed by two adjoining walls": guidance counts external ones (one public page), some certifiers count internal ones alone.`,
    };
  }
  return { status: 'permitted', why };
}

/**
 * Bands beside angles, up to the top of the lower of their two walls. A free end and a step between walls in line make
 * none; external angles and slight bends are disputed.
 */
function angleBands(face: Face, rules: EditionRules): Zone[] {
  const band = rules.angleBand;
  const one = (source: ZoneSource, end: FaceEnd, u0: Mm, u1: Mm): Zone[] => {
    const facts = angleFacts(end, band);
    if (facts === null) return [];
    return onFace(face, u0, u1, 0, end.top).map((shape) => zone(face.id, shape, { source, ...facts }));
  };
  return [
    ...one('angle-left', face.left, 0, band),
    ...one('angle-right', face.right, face.length - band, face.length),
  ];
}

interface Strip {
  readonly record: FacePointRecord;
  readonly source: 'plumb' | 'level';
  readonly u0: Mm;
  readonly u1: Mm;
  readonly z0: Mm;
  readonly z1: Mm;
}

/** The plumb and level strips of a face's own points, as rectangles not yet cut to the top of the wall. */
function stripsOf(face: Face, records: readonly FacePointRecord[]): Strip[] {
  return records.flatMap((record) => {
    const plate = plateOf(record.point);
    if (plate === null) return [];
    const { u, z } = record.spot;
    return [
      { record, source: 'plumb', u0: u - plate.width / 2, u1: u + plate.width / 2, z0: 0, z1: Infinity },
      { record, source: 'level', u0: 0, u1: face.length, z0: z - plate.height / 2, z1: z + plate.height / 2 },
    ] as const;
  });
}

/** Hidden points, blank plates and plates of unknown size: the strip is argued over, so it is no more than disputed. */
function statusOf({
  point,
}: FacePointRecord): Pick<Zone, 'status' | 'unasked'> & { readonly because: string } {
  if (point.kind === 'blank-plate') {
    return {
      status: 'disputed',
      unasked: false,
      because: ' A blank plate is no point in use: practitioners disagree.',
    };
  }
  if (!point.visible) {
    return {
      status: 'disputed',
      unasked: false,
      because: ' It is hidden after fit-out: practitioners disagree.',
    };
  }
  const plate = plateOf(point);
  if (plate !== null && plateGuessed(point)) {
    return {
      status: 'disputed',
      unasked: true,
      because: ` Its size is taken as ${plate.width} × ${plate.height} mm, but makers differ: type the real size.`,
    };
  }
  return { status: 'permitted', unasked: false, because: '' };
}

function stripZones(face: Face, strip: Strip, reverse: boolean, told = true): Zone[] {
  const { point } = strip.record;
  const own = statusOf(strip.record);
  const status = told ? own.status : 'disputed';
  const because = told
    ? own.because
    : `${own.because} Nobody has said yet whether it can be told from here where it is (522.6.202): answer that for the wall.`;
  const where = strip.source === 'plumb' ? 'Plumb with' : 'Level with';
  const behind = reverse ? ' on the other side of a thin wall' : '';
  return onFace(face, strip.u0, strip.u1, strip.z0, strip.z1).map((shape) =>
    zone(face.id, shape, {
      source: strip.source,
      status,
      unasked: told ? own.unasked : own.status === 'permitted' || own.unasked,
      point: point.id,
      circuit: point.circuit,
      reverse,
      why: `${where} point ${point.label}${behind}.${because}`,
    }),
  );
}

/** A stretch of a face that has one other face behind it through a wall thin enough. */
interface ThinStretch {
  readonly opposite: Opposite;
  readonly u0: Mm;
  readonly u1: Mm;
  /** Has somebody said that points behind can be told from here? */
  readonly told: boolean;
}

/**
 * Where a point's strip reaches through: wall of `reverseWall` mm or less (closed bound), by face behind, unless somebody
 * said that points behind cannot be told from here. A face that looks into no room may look outdoors, or into a room that
 * nobody has drawn: whatever is said, a strip that reaches through to it is disputed, never permitted.
 */
function thinStretches(face: Face, rules: EditionRules): ThinStretch[] {
  const found: ThinStretch[] = [];
  for (const opposite of face.opposite) {
    face.pieces.forEach((piece, i) => {
      const { thickness = Infinity, tellsBehind = null } = face.builds[i] ?? {};
      if (tellsBehind === false) return;
      const told = tellsBehind === true && face.room !== null;
      const u0 = Math.max(opposite.u0, piece.u0);
      const u1 = Math.min(opposite.u1, piece.u1);
      if (thickness > rules.reverseWall + ROUNDING || u1 - u0 <= ROUNDING) return;
      const before = found.at(-1);
      const sum = (o: Opposite) => o.u0 + o.otherAtU0;
      const joins =
        before !== undefined &&
        before.opposite.face === opposite.face &&
        before.told === told &&
        Math.abs(before.u1 - u0) <= ROUNDING &&
        Math.abs(sum(before.opposite) - sum(opposite)) <= ROUNDING;
      if (joins) found[found.length - 1] = { ...before, u1 };
      else found.push({ opposite, u0, u1, told });
    });
  }
  return found;
}

/** u of this face that lies in front of v on the face behind. They run opposite ways. */
const inFrontOf = (opposite: Opposite, v: Mm): Mm => opposite.u0 + (opposite.otherAtU0 - v);

function reverseZones(
  face: Face,
  faces: ReadonlyMap<FaceId, Face>,
  records: (face: FaceId) => readonly FacePointRecord[],
  rules: EditionRules,
): Zone[] {
  return thinStretches(face, rules).flatMap(({ opposite, u0, u1, told }) => {
    const behind = faces.get(opposite.face);
    if (behind === undefined) return [];
    return stripsOf(behind, records(behind.id)).flatMap((strip) => {
      const mirrored = {
        ...strip,
        u0: Math.max(u0, inFrontOf(opposite, strip.u1)),
        u1: Math.min(u1, inFrontOf(opposite, strip.u0)),
      };
      return stripZones(face, mirrored, true, told);
    });
  });
}

/** Level strips of points beyond lower partitions, above those: the surface goes on there. */
function strippedOver(
  face: Face,
  faces: ReadonlyMap<FaceId, Face>,
  records: (face: FaceId) => readonly FacePointRecord[],
): Zone[] {
  return (['left', 'right'] as const).flatMap((end) => {
    const found: Zone[] = [];
    let floor: Mm = 0;
    let at: Face | undefined = face;
    while (at?.[end].onward) {
      floor = Math.max(floor, at[end].top);
      at = faces.get(at[end].onward);
      if (at === undefined) break;
      for (const strip of stripsOf(at, records(at.id))) {
        if (strip.source !== 'level' || strip.z1 <= floor) continue;
        found.push(
          ...stripZones(face, { ...strip, u0: 0, u1: face.length, z0: Math.max(strip.z0, floor) }, false),
        );
      }
    }
    return found;
  });
}

/**
 * The permitted and disputed zones of a face, mm in its own (u, z), clipped to it: top band, angle bands, plumb and
 * level strips of its points, and those of the points behind a thin wall. Nothing at the floor. Strips are not cut by
 * openings. The end of a wall is disputed as a whole: no ruling calls it a wall with a top and angles of its own.
 * Source: BS 7671 522.6.202 (figures 150, 150, 100 mm); plate-wide strips are practice, the standard gives no width.
 */
export function zonesOfFace(
  rules: EditionRules,
  face: Face,
  faces: ReadonlyMap<FaceId, Face>,
  records: (face: FaceId) => readonly FacePointRecord[],
): Zone[] {
  if (face.pieces.length === 0) {
    return onFace(face, 0, face.length, 0, Infinity).map((shape) =>
      zone(face.id, shape, {
        source: 'angle-left',
        status: 'disputed',
        why: 'On the end of a wall: no published ruling, ask your certifier.',
      }),
    );
  }
  const own = stripsOf(face, records(face.id)).flatMap((strip) => stripZones(face, strip, false));
  return [
    ...topBands(face, rules),
    ...angleBands(face, rules),
    ...own,
    ...strippedOver(face, faces, records),
    ...reverseZones(face, faces, records, rules),
  ];
}

/** Zones of one face of a plan: see `zonesOfFace`. Sorts all points of the plan to faces, so for a face now and then. */
export function faceZones(doc: PlanDocument, fabric: Fabric, face: Face): Zone[] {
  const byFace = pointsByFace(doc, new Map([[fabric.storey, fabric]]));
  return zonesOfFace(EDITIONS[doc.job.edition], face, fabric.faces, (id) => byFace.get(id) ?? []);
}

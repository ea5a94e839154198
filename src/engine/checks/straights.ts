import { spaceSub } from '../geometry/vector.ts';
import type { Run } from '../model/document.ts';
import type { FacePoint, Mm, SpacePoint } from '../model/units.ts';
import type { LegCheck, RunCheck } from '../zones/types.ts';

/** Legs meeting this near to one line are one straight, mm. */
const IN_LINE: Mm = 0.5;

/** Legs that follow each other in one line on one face: told of as one, so that a split leg is no second mistake. */
export interface WallStraight {
  readonly legs: readonly { readonly index: number; readonly check: LegCheck }[];
  readonly fa: FacePoint;
  readonly fb: FacePoint;
  /** With the run's id it makes a key that is unique: stretch of path, and a number where one stretch has several. */
  readonly about: string;
}

function goesOn(fa: FacePoint, meet: FacePoint, fb: FacePoint): boolean {
  const [du, dz] = [fb.u - fa.u, fb.z - fa.z];
  const length = Math.hypot(du, dz);
  if (length === 0) return false;
  const along = ((meet.u - fa.u) * du + (meet.z - fa.z) * dz) / length;
  const off = Math.abs((meet.u - fa.u) * dz - (meet.z - fa.z) * du) / length;
  return off <= IN_LINE && along >= -IN_LINE && along <= length + IN_LINE;
}

/** The straights of a run on walls, in order. */
export function wallStraights(run: Run, check: RunCheck): WallStraight[] {
  const found: { legs: { index: number; check: LegCheck }[]; fa: FacePoint; fb: FacePoint }[] = [];
  check.legs.forEach((leg, index) => {
    const { kind, face, fa, fb } = leg.leg;
    if (kind !== 'face' || fa === null || fb === null) return;
    const before = found.at(-1);
    const last = before?.legs.at(-1);
    if (
      before !== undefined &&
      last?.index === index - 1 &&
      last.check.leg.face === face &&
      goesOn(before.fa, before.fb, fb)
    ) {
      before.legs.push({ index, check: leg });
      before.fb = fb;
    } else {
      found.push({ legs: [{ index, check: leg }], fa, fb });
    }
  });
  const times = new Map<number, number>();
  return found.map((straight) => {
    const stretch = straight.legs[0]?.check.leg.stretch ?? 0;
    const n = times.get(stretch) ?? 0;
    times.set(stretch, n + 1);
    return { ...straight, about: n === 0 ? `${run.id}:${stretch}` : `${run.id}:${stretch}.${n}` };
  });
}

/** "Leg 3 of R7", or "Legs 3 to 4 of R7". */
export function straightName(run: Run, straight: WallStraight): string {
  const first = (straight.legs[0]?.index ?? 0) + 1;
  const last = (straight.legs.at(-1)?.index ?? 0) + 1;
  return first === last ? `Leg ${first} of ${run.label}` : `Legs ${first} to ${last} of ${run.label}`;
}

/** The verb as its name needs it: "Leg 3 of R7 is", but "Legs 3 to 4 of R7 are". */
export function verbOf(straight: WallStraight, one: string, many: string): string {
  return straight.legs.length > 1 ? many : one;
}

/** A turn of less than this is none, radians. */
const LEAST_TURN = 0.05;

/** A straight of a run in space. */
export interface Straight {
  readonly index: number;
  readonly length: Mm;
  readonly dir: SpacePoint;
  /** Turn from the straight before, radians; 0 for the first. */
  readonly turn: number;
}

/** Straights of a run in space with the turn into each, legs in line taken as one. */
export function turnsOf(check: RunCheck): Straight[] {
  const out: { index: number; length: Mm; turn: number; dir: SpacePoint }[] = [];
  check.legs.forEach(({ leg }, index) => {
    if (leg.length < 1e-6) return;
    const d = spaceSub(leg.b, leg.a);
    const dir = { x: d.x / leg.length, y: d.y / leg.length, z: d.z / leg.length };
    const last = out.at(-1);
    const cos = last ? last.dir.x * dir.x + last.dir.y * dir.y + last.dir.z * dir.z : 1;
    const turn = last ? Math.acos(Math.min(1, Math.max(-1, cos))) : 0;
    if (last && turn < LEAST_TURN) last.length += leg.length;
    else out.push({ index, length: leg.length, turn, dir });
  });
  return out;
}

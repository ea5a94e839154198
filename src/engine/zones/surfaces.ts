import type { Fabric, Face, FaceId } from '../fabric/types.ts';
import type { Cable, Circuit, Id, PlanDocument, Protection, Run } from '../model/document.ts';
import { find } from '../model/tables.ts';
import type { FacePoint, Mm } from '../model/units.ts';
import { convex, intersection, rectangle, ROUNDING, type Convex } from './convex.ts';
import { EDITIONS, zoneNeeded, type EditionRules } from './editions.ts';
import { onFace } from './faceOutline.ts';
import type { Zone } from './types.ts';

/** Anything that answers by key: a Map, or a table that works things out when asked. */
export interface Lookup<K, V> {
  get(key: K): V | undefined;
}

/** What a run is checked against. */
export interface ZoneContext {
  readonly doc: PlanDocument;
  readonly fabrics: ReadonlyMap<Id, Fabric>;
  readonly zones: Lookup<FaceId, readonly Zone[]>;
}

/** What of a run decides where it may be. */
export interface RunFacts {
  readonly rules: EditionRules;
  readonly circuit: Id | null;
  /** Points the cable is connected to: it may rely on their strips under every edition. */
  readonly ends: readonly (Id | null)[];
  readonly depth: Mm | null;
  /** Protected as 522.6.204 says. */
  readonly p204: boolean;
  /** Protected in a way that some count under 522.6.204 and others do not. */
  readonly p204Disputed: boolean;
  readonly rcd30: boolean;
  /** Across the cable, mm: it lies flat on a wall, so this is along the surface. */
  readonly width: Mm;
  /** Through the cable the other way, mm. */
  readonly height: Mm;
  /** Strips that are disputed only until somebody answers count: for ways to suggest, which are told as disputed then. */
  readonly unasked: boolean;
  /** The strip of another circuit's point counts: the edition says so, and somebody has chosen it for this job. */
  readonly otherCircuits: boolean;
}

type Protects = 'yes' | 'disputed' | 'no';

const PROTECTS: Readonly<Record<Protection, Protects>> = {
  none: 'no',
  // Thin plaster capping is not mechanical protection: practice on 522.6.204(iv).
  capping: 'no',
  'earthed-armour': 'yes',
  'earthed-conduit': 'yes',
  'earthed-trunking': 'yes',
  'steel-3mm': 'disputed',
  'selv-pelv': 'yes',
};

/** Why steel of 3 mm is argued over. */
export const STEEL_DISPUTED =
  '3 mm steel is taken as enough against nails and screws by one public page (522.6.204(iv) names no thickness); ask your certifier.';

/** Is the cable protected as 522.6.204 says? A data cable counts as extra-low voltage (522.6.204 (v)). */
export function protects(run: Run, cable: Cable | undefined): Protects {
  return cable?.use === 'data' ? 'yes' : PROTECTS[run.protection];
}

/** Does the circuit have a residual current device of 30 mA or less (415.1.1)? */
export function hasRcd30(rules: EditionRules, circuit: Circuit | undefined): boolean {
  const rcd = circuit?.device.rcd ?? null;
  return rcd !== null && rcd <= rules.rcdMilliamps;
}

/** What of a plan and a cable decides where it may be, whatever its run. */
export function cableFacts(
  doc: PlanDocument,
  cable: Cable | undefined,
): Pick<RunFacts, 'rules' | 'width' | 'height' | 'otherCircuits'> {
  const rules = EDITIONS[doc.job.edition];
  const [width, height] = [cable?.width ?? 0, cable?.height ?? 0];
  return {
    rules,
    width: Math.max(width, height),
    height: Math.min(width, height),
    otherCircuits: doc.job.otherCircuitsInStrip && rules.otherCircuits === 'permitted',
  };
}

/** The facts of a run under the edition of its plan. */
export function factsOf(doc: PlanDocument, run: Run): RunFacts {
  const cable = find(doc, 'cables', run.cable);
  const facts = cableFacts(doc, cable);
  const how = protects(run, cable);
  return {
    ...facts,
    circuit: run.circuit,
    ends: [run.from, run.to],
    depth: run.depth,
    p204: how === 'yes',
    p204Disputed: how === 'disputed',
    unasked: false,
    rcd30: hasRcd30(facts.rules, find(doc, 'circuits', run.circuit)),
  };
}

/** How near a cable comes to the two surfaces of a wall, mm, and whether the depth stated for it fits in the wall. */
export interface Cover {
  readonly near: Mm;
  readonly far: Mm;
  readonly fits: boolean;
}

/**
 * Distances of the cable's nearest surface from the near and the far surface of the wall where a piece of face is. On
 * masonry a flat cable lies flat; between studs it may stand on edge. A depth at which it would stick out of the wall
 * says nothing: then the build-up's own distances count, as where none is stated.
 */
export function coverAt(
  face: Face,
  piece: number,
  { depth, width, height }: Pick<RunFacts, 'depth' | 'width' | 'height'>,
): Cover {
  const build = face.builds[piece];
  if (build === undefined) return { near: 0, far: 0, fits: depth === null };
  const layers = { near: build.coverNear, far: build.coverFar };
  if (depth === null) return { ...layers, fits: true };
  const half = (build.masonry ? height : width) / 2;
  const [near, far] = [depth - half, build.thickness - depth - half];
  return Math.min(near, far) < 0 ? { ...layers, fits: false } : { near, far, fits: true };
}

/** A part of a surface where a cable may lie, or where it is disputed, in (u, z) of the face the leg is drawn on. */
export interface Area extends Convex {
  readonly status: Zone['status'];
  readonly why: string;
}

/** The box of a leg, for leaving out areas it cannot meet; null takes them all. */
export interface Box {
  readonly u0: Mm;
  readonly u1: Mm;
  readonly z0: Mm;
  readonly z1: Mm;
}

const meets = (box: Box | null, u0: Mm, u1: Mm, z0: Mm, z1: Mm): boolean =>
  box === null ||
  (u0 <= box.u1 + ROUNDING && u1 >= box.u0 - ROUNDING && z0 <= box.z1 + ROUNDING && z1 >= box.z0 - ROUNDING);

/** The strip of a point counts for its own circuit: for others it is disputed, unless the job says that it counts. */
function standing(zone: Zone, facts: RunFacts): { status: Zone['status']; why: string } {
  const another = zone.point !== null && zone.circuit !== facts.circuit && !facts.ends.includes(zone.point);
  const status = zone.unasked && facts.unasked ? 'permitted' : zone.status;
  if (status !== 'permitted' || !another) return { status, why: zone.why };
  if (facts.otherCircuits) {
    return {
      status: 'permitted',
      why: `${zone.why} The point is on another circuit: chosen for this job, as ${facts.rules.name} is read on one public page.`,
    };
  }
  return {
    status: 'disputed',
    why:
      facts.rules.otherCircuits === 'permitted'
        ? `${zone.why} The point is on another circuit: one public page reads ${facts.rules.name} as allowing that; nobody has chosen it for this job.`
        : `${zone.why} The point is on another circuit: under ${facts.rules.name} practitioners disagree.`,
  };
}

type Standing = Pick<Area, 'status' | 'why'>;

function freeAreas(face: Face, u0: Mm, u1: Mm, free: Standing, box: Box | null): Area[] {
  if (u1 - u0 <= ROUNDING || !meets(box, u0, u1, -Infinity, Infinity)) return [];
  return onFace(face, u0, u1, 0, Infinity).map((shape) => ({ ...shape, ...free }));
}

/** Why the position on one surface is free, or argued to be; null where the cable must be in a zone of it. */
function freeReason(facts: RunFacts, cover: Cover, side: 'near' | 'far', metal: boolean): Standing | null {
  const shallow = cover[side] < facts.rules.shallow;
  if (!shallow) return { status: 'permitted', why: `${facts.rules.shallow} mm deep or more.` };
  const free = (p204: boolean) => !zoneNeeded(facts.rules, { shallow, metal, p204 });
  if (free(facts.p204)) return { status: 'permitted', why: 'Protected as 522.6.204 says.' };
  return facts.p204Disputed && free(true) ? { status: 'disputed', why: STEEL_DISPUTED } : null;
}

/** Where a run may lie as far as the surface it is drawn on goes. */
export function nearAreas(ctx: ZoneContext, face: Face, facts: RunFacts, box: Box | null): Area[] {
  const found: Area[] = [];
  face.pieces.forEach((piece, i) => {
    const free = freeReason(facts, coverAt(face, i, facts), 'near', face.builds[i]?.metal ?? false);
    if (free !== null) found.push(...freeAreas(face, piece.u0, piece.u1, free, box));
  });
  for (const zone of ctx.zones.get(face.id) ?? []) {
    if (!meets(box, zone.u0, zone.u1, zone.z0, zone.z1)) continue;
    const { outline, u0, u1, z0, z1 } = zone;
    found.push({ outline, u0, u1, z0, z1, ...standing(zone, facts) });
  }
  return found;
}

/** A zone of the face behind, seen from this one and cut to the stretch it lies behind. */
function seenThrough(zone: Zone, flip: (v: Mm) => Mm, u0: Mm, u1: Mm): Convex | null {
  const outline: FacePoint[] = zone.outline.map((p) => ({ u: flip(p.u), z: p.z })).reverse();
  return intersection(convex(outline), rectangle(u0, u1, zone.z0, zone.z1));
}

const NOTHING_BEHIND: Standing = { status: 'permitted', why: 'Nothing behind the wall here.' };

/** Where a run may lie as far as the surface behind it goes. Where nothing is behind, no one can drill from there. */
export function farAreas(
  ctx: ZoneContext,
  fabric: Fabric,
  face: Face,
  facts: RunFacts,
  box: Box | null,
): Area[] {
  const found: Area[] = [];
  const behind = [...face.opposite].sort((a, b) => a.u0 - b.u0);
  let reached = 0;
  for (const { u0, u1 } of [...behind, { u0: face.length, u1: face.length }]) {
    found.push(...freeAreas(face, reached, u0, NOTHING_BEHIND, box));
    reached = Math.max(reached, u1);
  }
  for (const opposite of behind) {
    const other = fabric.faces.get(opposite.face);
    face.pieces.forEach((piece, i) => {
      const u0 = Math.max(opposite.u0, piece.u0);
      const u1 = Math.min(opposite.u1, piece.u1);
      if (u1 - u0 <= ROUNDING || !meets(box, u0, u1, -Infinity, Infinity)) return;
      const metal = face.builds[i]?.metal ?? false;
      const free = other === undefined ? null : freeReason(facts, coverAt(face, i, facts), 'far', metal);
      if (free !== null) found.push(...freeAreas(face, u0, u1, free, box));
      if (free?.status === 'permitted') return;
      const flip = (v: Mm): Mm => opposite.u0 + (opposite.otherAtU0 - v);
      for (const zone of ctx.zones.get(opposite.face) ?? []) {
        const [lo, hi] = [Math.max(u0, flip(zone.u1)), Math.min(u1, flip(zone.u0))];
        if (lo > hi || !meets(box, lo, hi, zone.z0, zone.z1)) continue;
        const shape = seenThrough(zone, flip, u0, u1);
        if (shape !== null) found.push({ ...shape, ...standing(zone, facts) });
      }
    });
  }
  return found;
}

const contains = (a: Convex, b: Convex): boolean =>
  a.u0 <= b.u0 && a.u1 >= b.u1 && a.z0 <= b.z0 && a.z1 >= b.z1 && a.outline.length === 4;

/** Where a run may lie on a face as far as both surfaces go: what the permitted areas of the two share. */
export function legalAreas(ctx: ZoneContext, fabric: Fabric, face: Face, facts: RunFacts): Convex[] {
  const permitted = (areas: Area[]) => areas.filter((a) => a.status === 'permitted');
  const near = permitted(nearAreas(ctx, face, facts, null));
  const far = permitted(farAreas(ctx, fabric, face, facts, null));
  const shared: Convex[] = [];
  for (const a of near) {
    for (const b of far) {
      const both = intersection(a, b);
      if (both !== null) shared.push(both);
    }
  }
  const isBox = (c: Convex) =>
    c.outline.every((p) => (p.u === c.u0 || p.u === c.u1) && (p.z === c.z0 || p.z === c.z1));
  const boxes = shared.filter(isBox);
  return shared.filter(
    (c, i) => !boxes.some((b) => b !== c && contains(b, c) && (!contains(c, b) || shared.indexOf(b) < i)),
  );
}

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
  readonly rcd30: boolean;
}

const PROTECTS: Readonly<Record<Protection, boolean>> = {
  none: false,
  // Thin plaster capping is not mechanical protection: practice on 522.6.204(iv).
  capping: false,
  'earthed-armour': true,
  'earthed-conduit': true,
  'earthed-trunking': true,
  'steel-3mm': true,
  'selv-pelv': true,
};

/** Is the cable protected as 522.6.204 says? A data cable counts as extra-low voltage (522.6.204 (v)). */
export function isProtected(run: Run, cable: Cable | undefined): boolean {
  return PROTECTS[run.protection] || cable?.use === 'data';
}

/** Does the circuit have a residual current device of 30 mA or less (415.1.1)? */
export function hasRcd30(rules: EditionRules, circuit: Circuit | undefined): boolean {
  const rcd = circuit?.device.rcd ?? null;
  return rcd !== null && rcd <= rules.rcdMilliamps;
}

/** The facts of a run under the edition of its plan. */
export function factsOf(doc: PlanDocument, run: Run): RunFacts {
  const rules = EDITIONS[doc.job.edition];
  return {
    rules,
    circuit: run.circuit,
    ends: [run.from, run.to],
    depth: run.depth,
    p204: isProtected(run, find(doc, 'cables', run.cable)),
    rcd30: hasRcd30(rules, find(doc, 'circuits', run.circuit)),
  };
}

/** Distances of the cable from the near and the far surface where a piece of face is, mm. */
export function coverAt(face: Face, piece: number, depth: Mm | null): { near: Mm; far: Mm } {
  const build = face.builds[piece];
  if (build === undefined) return { near: 0, far: 0 };
  return depth === null
    ? { near: build.coverNear, far: build.coverFar }
    : { near: depth, far: build.thickness - depth };
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

/** Under some editions the strip of a point counts for its own circuit only: for others it is disputed. */
function standing(zone: Zone, facts: RunFacts): { status: Zone['status']; why: string } {
  const another = zone.point !== null && zone.circuit !== facts.circuit && !facts.ends.includes(zone.point);
  if (zone.status === 'permitted' && another && facts.rules.otherCircuits === 'disputed') {
    return {
      status: 'disputed',
      why: `${zone.why} The point is on another circuit: under ${facts.rules.name} practitioners disagree.`,
    };
  }
  return { status: zone.status, why: zone.why };
}

function freeAreas(face: Face, u0: Mm, u1: Mm, why: string, box: Box | null): Area[] {
  if (u1 - u0 <= ROUNDING || !meets(box, u0, u1, -Infinity, Infinity)) return [];
  return onFace(face, u0, u1, 0, Infinity).map((shape) => ({ ...shape, status: 'permitted' as const, why }));
}

function freeReason(facts: RunFacts, cover: Mm, metal: boolean): string | null {
  const shallow = cover < facts.rules.shallow;
  if (zoneNeeded(facts.rules, { shallow, metal, p204: facts.p204 })) return null;
  return shallow ? 'Protected as 522.6.204 says.' : `${facts.rules.shallow} mm deep or more.`;
}

/** Where a run may lie as far as the surface it is drawn on goes. */
export function nearAreas(ctx: ZoneContext, face: Face, facts: RunFacts, box: Box | null): Area[] {
  const found: Area[] = [];
  face.pieces.forEach((piece, i) => {
    const free = freeReason(facts, coverAt(face, i, facts.depth).near, face.builds[i]?.metal ?? false);
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
    found.push(...freeAreas(face, reached, u0, 'Nothing behind the wall here.', box));
    reached = Math.max(reached, u1);
  }
  for (const opposite of behind) {
    const other = fabric.faces.get(opposite.face);
    face.pieces.forEach((piece, i) => {
      const u0 = Math.max(opposite.u0, piece.u0);
      const u1 = Math.min(opposite.u1, piece.u1);
      if (u1 - u0 <= ROUNDING || !meets(box, u0, u1, -Infinity, Infinity)) return;
      const metal = face.builds[i]?.metal ?? false;
      const free = other === undefined ? null : freeReason(facts, coverAt(face, i, facts.depth).far, metal);
      if (free !== null) {
        found.push(...freeAreas(face, u0, u1, free, box));
        return;
      }
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

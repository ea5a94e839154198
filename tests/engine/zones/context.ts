import type { Fabric, Face, Leg } from '../../../src/engine/fabric/types.ts';
import type { PlanDocument, Run } from '../../../src/engine/model/document.ts';
import { checkRun } from '../../../src/engine/zones/checkRun.ts';
import { faceZones } from '../../../src/engine/zones/faceZones.ts';
import type { ZoneContext } from '../../../src/engine/zones/surfaces.ts';
import type { LegCheck, RunCheck } from '../../../src/engine/zones/types.ts';

export function fabricOf(faces: readonly Face[]): Fabric {
  return { storey: 's1', faces: new Map(faces.map((f) => [f.id, f])), rooms: new Map(), outside: [] };
}

/** The real zones of hand-made faces. */
export function contextOf(doc: PlanDocument, faces: readonly Face[]): ZoneContext {
  const fabric = fabricOf(faces);
  return {
    doc,
    fabrics: new Map([['s1', fabric]]),
    zones: new Map(faces.map((f) => [f.id, faceZones(doc, fabric, f)])),
  };
}

export function check(ctx: ZoneContext, run: Run, legs: readonly Leg[]): RunCheck {
  return checkRun(ctx, run, { run: run.id, legs, missing: null });
}

export function checkOne(ctx: ZoneContext, run: Run, leg: Leg): LegCheck {
  return check(ctx, run, [leg]).legs[0] as LegCheck;
}

/** Stretches as readable rows: answer, mm from, mm to. */
export function rowsOf(check: LegCheck): [string, number, number][] {
  const round = (x: number) => Math.round(x * 1000) / 1000;
  return check.stretches.map((s) => [
    s.answer,
    round(s.t0 * check.leg.length),
    round(s.t1 * check.leg.length),
  ]);
}

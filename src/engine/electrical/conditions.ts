import type { Amp, Mm } from '../model/units.ts';
import type { Cable, Id, Run } from '../model/document.ts';
import { ofRecord } from '../memo/ofRecord.ts';
import { find } from '../model/tables.ts';
import { besideLeg, type Beside } from './grouping.ts';
import { designCurrent } from './loads.ts';
import type { ElectricalInput } from './net.ts';
import { surroundings } from './surroundings.ts';
import {
  ambientFactor,
  GROUP_BUNCHED,
  GROUP_LAYER,
  groupFactor,
  LIGHTLY_LOADED,
  SURROUNDED_MAX_CSA,
  surroundedFactor,
} from './tables/factors.ts';
import { ratingOf, sizeOf, type Method, type Size } from './tables/ratings.ts';

/** How one stretch of a leg lies, and what its cable may carry there. */
export interface ConditionStretch {
  readonly run: Id;
  readonly leg: number;
  readonly t0: number;
  readonly t1: number;
  readonly length: Mm;
  readonly method: Method | null;
  readonly why: string;
  /** Circuits side by side here, this one with them; those that carry next to nothing left out. */
  readonly grouped: readonly Id[];
  readonly layer: boolean;
  /** mm wholly surrounded, and the factors. */
  readonly surrounded: Mm;
  readonly ca: number | null;
  readonly cg: number;
  readonly ci: number;
  /** Tabulated, and with all factors; null where a table has no answer. */
  readonly it: Amp | null;
  readonly iz: Amp | null;
}

/** The stretches of one run, and the one that governs. `unknown` says why a stretch has no rating. */
export interface RunConditions {
  readonly run: Id;
  readonly stretches: readonly ConditionStretch[];
  readonly worst: ConditionStretch | null;
  readonly unknown: string | null;
}

/** A circuit that carries so little that it does not warm its neighbours (notes to Table 4C1, from memory). */
function lightlyLoaded(input: ElectricalInput, circuit: Id | null, cable: Cable): boolean {
  const record = find(input.doc, 'circuits', circuit);
  const size = sizeOf(cable.csa);
  if (record === undefined || size === null) return false;
  const amps = designCurrent(input, record).amps ?? record.device.rating;
  return amps <= LIGHTLY_LOADED.values * ratingOf('C', size) * groupFactor(GROUP_BUNCHED, 2);
}

/** Tabulated rating, rating with factors, and the factor of surrounded length that went in. */
export interface Rated {
  readonly it: Amp | null;
  readonly iz: Amp | null;
  readonly ci: number;
}

/** Rating with its factors. Ci goes on method C and on no other: methods 100 to 103 have their insulation in them. */
export function rate(
  method: Method | null,
  size: Size | null,
  surrounded: Mm,
  ca: number | null,
  cg: number,
): Rated {
  const ci = method === 'C' ? surroundedFactor(surrounded) : 1;
  const covered = surrounded === 0 || (size !== null && Number(size) <= SURROUNDED_MAX_CSA.values);
  if (method === null || size === null || !covered) return { it: null, iz: null, ci };
  const it = ratingOf(method, size);
  return { it, iz: ca === null ? null : it * ca * cg * ci, ci };
}

function stretchesOf(input: ElectricalInput, run: Run, cable: Cable, index: number): ConditionStretch[] {
  const { leg } = input.checks.get(run.id)?.legs[index] ?? { leg: null };
  if (leg === null || leg.length === 0) return [];
  const parts = surroundings(input, leg, run, cable);
  const beside = besideLeg(input, { run, cable, leg }).filter(
    (b) => !lightlyLoaded(input, b.other.run.circuit, b.other.cable),
  );
  const ca = ambientFactor(input.doc.job.ambient);
  const size = sizeOf(cable.csa);
  return parts.flatMap((part) => {
    const inner = beside.flatMap((b) => [b.t0, b.t1]).filter((t) => t > part.t0 && t < part.t1);
    const cuts = [...new Set([part.t0, ...inner, part.t1])].sort((x, y) => x - y);
    return cuts.slice(1).map((t1, i): ConditionStretch => {
      const t0 = cuts[i] as number;
      const t = (t0 + t1) / 2;
      const here: Beside[] = beside.filter((b) => b.t0 <= t && t <= b.t1);
      const grouped = [...new Set([run.circuit, ...here.map((b) => b.other.run.circuit)])].flatMap(
        (c) => c ?? [],
      );
      const layer = [run, ...here.map((b) => b.other.run)].every((r) => r.fixing === 'clipped');
      const cg = groupFactor(layer ? GROUP_LAYER : GROUP_BUNCHED, Math.max(1, grouped.length));
      const rated = rate(part.method, size, part.surrounded, ca, cg);
      const { method, why, surrounded } = part;
      const length = (t1 - t0) * leg.length;
      return {
        run: run.id,
        leg: index,
        t0,
        t1,
        length,
        method,
        why,
        surrounded,
        grouped,
        layer,
        ca,
        cg,
        ...rated,
      };
    });
  });
}

function alongRun(input: ElectricalInput, run: Run): RunConditions {
  const cable = find(input.doc, 'cables', run.cable);
  const check = input.checks.get(run.id);
  if (cable === undefined || cable.use === 'data' || check === undefined)
    return { run: run.id, stretches: [], worst: null, unknown: 'not a mains cable' };
  const stretches = check.legs.flatMap((_, i) => stretchesOf(input, run, cable, i));
  let worst: ConditionStretch | null = null;
  for (const s of stretches) if (s.iz !== null && (worst?.iz == null || s.iz < worst.iz)) worst = s;
  return { run: run.id, stretches, worst, unknown: unknownOf(input, cable, stretches) };
}

/** Every stretch of a run with its rating; the least rating governs. */
export const runConditions = ofRecord('conditions of a run', 'runs', alongRun);

function unknownOf(
  input: ElectricalInput,
  cable: Cable,
  stretches: readonly ConditionStretch[],
): string | null {
  if (sizeOf(cable.csa) === null) return `Table 4D5 has no ${cable.csa} mm² here`;
  if (ambientFactor(input.doc.job.ambient) === null) return `no factor for ${input.doc.job.ambient} °C`;
  const bad = stretches.find((s) => s.iz === null);
  if (bad === undefined) return null;
  return bad.method === null
    ? bad.why
    : `surrounded insulation: the table ends at ${SURROUNDED_MAX_CSA.values} mm²`;
}

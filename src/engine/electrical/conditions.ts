import type { Amp, Mm } from '../model/units.ts';
import type { Cable, Id, Run } from '../model/document.ts';
import { ofRecord } from '../memo/ofRecord.ts';
import { find } from '../model/tables.ts';
import { besideLeg, type Beside } from './grouping.ts';
import { designCurrent } from './loads.ts';
import { stretchConditions } from '../takeoff/straights.ts';
import type { Held } from '../takeoff/types.ts';
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
import { ratedSize, ratingOf, unratedBecause, type Method, type Size } from './tables/ratings.ts';

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
  /** Circuits beside it that carry no more than 30 % of their grouped rating. */
  readonly leftOut: readonly Id[];
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

/**
 * A cable that carries so little that it does not warm its neighbours: no more than 30 % of its own grouped rating
 * (523.5), which is what its table has where it lies, by `factor` for all that lie there. What is not stated counts as
 * the rating of the device.
 */
function lightlyLoaded(
  input: ElectricalInput,
  { other }: Beside,
  method: Method | null,
  factor: number,
): boolean {
  const record = find(input.doc, 'circuits', other.run.circuit);
  const size = ratedSize(other.cable);
  if (record === undefined || size === null || method === null) return false;
  const { amps, unstated } = designCurrent(input, record);
  const carries = amps === null || unstated.length > 0 ? record.device.rating : amps;
  return carries <= LIGHTLY_LOADED.values * ratingOf(method, size) * factor;
}

/** Those of a group that count, this circuit with them, and their factor: lightly loaded neighbours are left out. */
function groupOf(
  input: ElectricalInput,
  run: Run,
  here: readonly Beside[],
  method: Method | null,
  ca: number,
): Pick<ConditionStretch, 'grouped' | 'leftOut' | 'layer' | 'cg'> {
  const circuits = (some: readonly Beside[]): Id[] =>
    [...new Set([run.circuit, ...some.map((b) => b.other.run.circuit)])].flatMap((c) => c ?? []);
  const tableOf = (some: readonly Beside[]) =>
    [run, ...some.map((b) => b.other.run)].every((r) => r.fixing === 'clipped') ? GROUP_LAYER : GROUP_BUNCHED;
  const all = circuits(here);
  const whole = groupFactor(tableOf(here), Math.max(1, all.length)) * ca;
  const counted = here.filter((b) => !lightlyLoaded(input, b, method, whole));
  const grouped = circuits(counted);
  const table = tableOf(counted);
  return {
    grouped,
    leftOut: all.filter((id) => !grouped.includes(id)),
    layer: table === GROUP_LAYER,
    cg: groupFactor(table, Math.max(1, grouped.length)),
  };
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

function stretchesOf(
  input: ElectricalInput,
  run: Run,
  cable: Cable,
  index: number,
  held: Held,
): ConditionStretch[] {
  const { leg } = input.checks.get(run.id)?.legs[index] ?? { leg: null };
  if (leg === null || leg.length === 0) return [];
  const parts = surroundings(input, leg, run, cable, held);
  const beside = besideLeg(input, { run, cable, leg });
  const ca = ambientFactor(input.doc.job.ambient);
  const size = ratedSize(cable);
  return parts.flatMap((part) => {
    const inner = beside.flatMap((b) => [b.t0, b.t1]).filter((t) => t > part.t0 && t < part.t1);
    const cuts = [...new Set([part.t0, ...inner, part.t1])].sort((x, y) => x - y);
    return cuts.slice(1).map((t1, i): ConditionStretch => {
      const t0 = cuts[i] as number;
      const t = (t0 + t1) / 2;
      const here: Beside[] = beside.filter((b) => b.t0 <= t && t <= b.t1);
      const group = groupOf(input, run, here, part.method, ca ?? 1);
      const rated = rate(part.method, size, part.surrounded, ca, group.cg);
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
        ...group,
        ca,
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
  const held = stretchConditions(
    input.doc,
    run,
    check.legs.map((l) => l.leg),
  );
  const stretches = check.legs.flatMap((_, i) => stretchesOf(input, run, cable, i, held[i] as Held));
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
  if (ratedSize(cable) === null) return unratedBecause(cable);
  if (ambientFactor(input.doc.job.ambient) === null) return `no factor for ${input.doc.job.ambient} °C`;
  const bad = stretches.find((s) => s.iz === null);
  if (bad === undefined) return null;
  return bad.method === null
    ? bad.why
    : `surrounded insulation: the table ends at ${SURROUNDED_MAX_CSA.values} mm²`;
}

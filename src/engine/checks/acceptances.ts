import type { Acceptance, PlanDocument } from '../model/document.ts';
import { rows } from '../model/tables.ts';
import type { Finding, Stage } from './types.ts';

/** A finding someone took on, with their reason. */
export interface AcceptedFinding {
  readonly finding: Finding;
  readonly acceptance: Acceptance;
}

export interface Sorted {
  readonly open: readonly Finding[];
  readonly accepted: readonly AcceptedFinding[];
  /** Acceptances whose finding is gone: kept in the plan, and shown so that nobody relies on them. */
  readonly idle: readonly Acceptance[];
}

/** Findings parted into those still open and those accepted. The last acceptance of a finding is the one shown. */
export function applyAcceptances(doc: PlanDocument, findings: readonly Finding[]): Sorted {
  const byFinding = new Map(rows(doc.acceptances).map((a) => [a.finding, a]));
  const open: Finding[] = [];
  const accepted: AcceptedFinding[] = [];
  for (const finding of findings) {
    const acceptance = byFinding.get(finding.key);
    if (acceptance === undefined) open.push(finding);
    else accepted.push({ finding, acceptance });
  }
  const keys = new Set(findings.map((f) => f.key));
  return { open, accepted, idle: rows(doc.acceptances).filter((a) => !keys.has(a.finding)) };
}

/** Open findings of each stage, for the strip of stages. */
export function countByStage(findings: readonly Finding[]): ReadonlyMap<Stage, number> {
  const counts = new Map<Stage, number>();
  for (const { stage } of findings) counts.set(stage, (counts.get(stage) ?? 0) + 1);
  return counts;
}

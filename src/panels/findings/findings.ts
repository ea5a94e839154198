import type { Finding, Severity, Stage } from '../../engine/checks/types.ts';
import type { Acceptance, PlanDocument } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import type { App } from '../../tools/app.ts';
import { STAGES } from '../../app/stageInfo.ts';

/** Acceptances by the key of their finding. */
export function acceptances(doc: PlanDocument): ReadonlyMap<string, Acceptance> {
  return new Map(rows(doc.acceptances).map((each) => [each.finding, each]));
}

/** What was found and nobody has accepted. */
export function openFindings(findings: readonly Finding[], doc: PlanDocument): Finding[] {
  const accepted = acceptances(doc);
  return findings.filter((finding) => !accepted.has(finding.key));
}

const WEIGHT: Readonly<Record<Severity, number>> = { error: 0, warning: 1, disputed: 2, note: 3 };

export const SEVERITY: Readonly<Record<Severity, { readonly word: string; readonly sign: string }>> = {
  error: { word: 'Against the rule', sign: '✕' },
  warning: { word: 'Warning', sign: '!' },
  disputed: { word: 'Disputed', sign: '?' },
  note: { word: 'Note', sign: 'i' },
};

export interface StageFindings {
  readonly stage: Stage;
  readonly name: string;
  readonly findings: readonly Finding[];
}

/** Grouped by stage in the order of the strip, the gravest first, the engine's order within. */
export function byStage(findings: readonly Finding[]): StageFindings[] {
  return STAGES.map((info) => ({
    stage: info.stage,
    name: info.name,
    findings: findings
      .filter((finding) => finding.stage === info.stage)
      .sort((a, b) => WEIGHT[a.severity] - WEIGHT[b.severity]),
  })).filter((group) => group.findings.length > 0);
}

/** What a finding lights on the drawing. */
export function litBy(finding: Finding): ReadonlySet<string> {
  const lit = new Set<string>();
  if (finding.run !== null)
    lit.add(finding.leg === null ? `run:${finding.run}` : `run:${finding.run}:${finding.leg}`);
  if (finding.point !== null) lit.add(`point:${finding.point}`);
  if (lit.size === 0 && finding.at?.face) lit.add(`face:${finding.at.face}`);
  return lit;
}

/** Shows where a finding is, in the plan and on its wall, and lights its subject. */
export function showFinding(app: App, finding: Finding): void {
  const { at } = finding;
  const fabrics = app.derived.get().derived.fabrics;
  const face = at?.face ? fabrics.get(at.storey)?.faces.get(at.face) : undefined;
  app.session.set({
    lit: litBy(finding),
    ...(at ? { storey: at.storey } : {}),
    ...(face ? { room: face.room, face: face.id } : {}),
    ...(finding.run !== null
      ? {
          selection: [
            { table: 'runs', id: finding.run, part: finding.leg === null ? null : `leg:${finding.leg}` },
          ],
        }
      : finding.point !== null
        ? { selection: [{ table: 'points', id: finding.point, part: null }] }
        : finding.circuit !== null
          ? { selection: [{ table: 'circuits', id: finding.circuit, part: null }] }
          : finding.wall !== null
            ? { selection: [{ table: 'walls', id: finding.wall, part: null }] }
            : {}),
  });
  if (at?.plan) app.viewer.show({ kind: 'plan', x: at.plan.x, y: at.plan.y, span: 4000 });
  if (face) app.viewer.show({ kind: 'face', face: face.id, u: at?.on?.u ?? null });
}

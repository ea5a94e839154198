import type { Derived } from '../derive/types.ts';
import type { Finding } from '../checks/types.ts';
import type { FaceId } from '../fabric/types.ts';
import type { Id, PlanDocument, Run } from '../model/document.ts';
import { rows } from '../model/tables.ts';

/** What still stands between a wall and its boards, for the cables recorded on it. */
export interface CoverAnswer {
  readonly face: FaceId;
  readonly storey: Id;
  readonly runs: readonly Run[];
  /** Every run on it is ticked covered already. */
  readonly covered: boolean;
  /** In words, one each; empty when nothing recorded here stands in the way. */
  readonly missing: readonly string[];
}

const STEPS = [
  ['pulled', 'not pulled'],
  ['labelled', 'not labelled'],
  ['photographed', 'not photographed'],
  ['tested', 'not dead-tested'],
] as const;

/**
 * For each face with a recorded run on it, or through it, what is missing before it may be covered: each run pulled,
 * labelled, photographed, tested and recorded as laid, and no finding against the rule left open on the wall. Findings
 * whose key is in `accepted` do not count. Says nothing about cables that are not in the plan.
 */
export function coverAnswers(
  doc: PlanDocument,
  derived: Derived,
  accepted: ReadonlySet<string>,
): CoverAnswer[] {
  const onFace = new Map<FaceId, { storey: Id; runs: Set<Id> }>();
  for (const run of rows(doc.runs)) {
    for (const { leg } of derived.runs.get(run.id)?.legs ?? []) {
      if (leg.face === null) continue;
      const held = onFace.get(leg.face) ?? { storey: leg.storey, runs: new Set<Id>() };
      held.runs.add(run.id);
      onFace.set(leg.face, held);
    }
  }
  const open = derived.findings.filter((f) => f.severity === 'error' && !accepted.has(f.key));
  return [...onFace].map(([face, held]) => {
    const runs = rows(doc.runs).filter((run) => held.runs.has(run.id));
    return {
      face,
      storey: held.storey,
      runs,
      covered: runs.every((run) => run.progress.covered !== null),
      missing: [...missingSteps(runs), ...openHere(open, face)],
    };
  });
}

function missingSteps(runs: readonly Run[]): string[] {
  const labels = (some: readonly Run[]): string => some.map((run) => run.label).join(', ');
  const steps = STEPS.flatMap(([step, words]) => {
    const lacking = runs.filter((run) => run.progress[step] === null);
    return lacking.length === 0 ? [] : [`${labels(lacking)} ${words}`];
  });
  const unrecorded = runs.filter((run) => run.asLaid.state === 'not-recorded');
  return unrecorded.length === 0 ? steps : [...steps, `${labels(unrecorded)} not recorded as laid`];
}

function openHere(open: readonly Finding[], face: FaceId): string[] {
  const here = open.filter((finding) => finding.at?.face === face).length;
  return here === 0 ? [] : [`${here} ${here === 1 ? 'finding' : 'findings'} against the rule on this wall`];
}

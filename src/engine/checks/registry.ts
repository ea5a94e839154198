import { circuitNoBoard, circuitNotReachingBoard, pointUnreached, ringOpen } from './rules/circuitJoined.ts';
import { luminaireNoRcd, socketNoRcd } from './rules/circuitRcd.ts';
import { diagonal } from './rules/diagonal.ts';
import { coverNeedsRcd, metalFrame } from './rules/extraProtection.ts';
import { runThroughKeepOut } from './rules/keepOut.ts';
import { openingCrossed } from './rules/openingCrossed.ts';
import { boxMissing, heightNewDwelling, jointHidden } from './rules/pointFitting.ts';
import { pointUnassigned } from './rules/pointOnCircuit.ts';
import { pointInOpening, pointOffWall } from './rules/pointPlaced.ts';
import { roomNotClosed } from './rules/roomNotClosed.ts';
import { endMismatch, parkedEnd, runNoCircuit, runUnresolved } from './rules/runEnds.ts';
import { runLongerThanDrum } from './rules/runLongerThanDrum.ts';
import { sameSpot } from './rules/sameSpot.ts';
import { scaleNone, scaleOne, scaleResidual } from './rules/scale.ts';
import { turnAway } from './rules/turnAway.ts';
import { zoneDisputed } from './rules/zoneDisputed.ts';
import { zoneOutside } from './rules/zoneOutside.ts';
import { findingsOf, type CheckContext, type Rule, type SubjectKind, type Subjects } from './rule.ts';
import type { Finding } from './types.ts';

/** Rules by what they look at: so that a change re-runs no others. A new rule goes in here and nowhere else. */
export const RULES: { readonly [K in SubjectKind]: readonly Rule<K>[] } = {
  underlay: [scaleNone, scaleOne, scaleResidual],
  storey: [roomNotClosed],
  face: [sameSpot],
  point: [pointOffWall, pointInOpening, boxMissing, jointHidden, heightNewDwelling, pointUnassigned],
  circuit: [circuitNoBoard, circuitNotReachingBoard, ringOpen, pointUnreached, socketNoRcd, luminaireNoRcd],
  run: [
    runUnresolved,
    parkedEnd,
    zoneOutside,
    zoneDisputed,
    diagonal,
    openingCrossed,
    coverNeedsRcd,
    metalFrame,
    turnAway,
    runThroughKeepOut,
    endMismatch,
    runNoCircuit,
    runLongerThanDrum,
  ],
};

/** Every rule once, for lists and legends. */
export const ALL_RULES: readonly Pick<Rule, 'id' | 'title' | 'looksAt' | 'severity' | 'stage' | 'source'>[] =
  Object.values(RULES).flatMap((rules) => rules as readonly Pick<Rule, keyof Rule>[]);

/** What all rules find on one subject. */
export function findOn<K extends SubjectKind>(ctx: CheckContext, kind: K, subject: Subjects[K]): Finding[] {
  const rules: readonly Rule<K>[] = RULES[kind];
  return rules.flatMap((rule) => findingsOf(rule, ctx, subject));
}

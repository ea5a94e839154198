import { circuitNoBoard, circuitNotReachingBoard, pointUnreached, ringOpen } from './rules/circuitJoined.ts';
import { luminaireNoRcd, socketNoRcd } from './rules/circuitRcd.ts';
import { depthDoesNotFit } from './rules/depthFits.ts';
import { diagonal } from './rules/diagonal.ts';
import { coverNeedsRcd, metalFrame } from './rules/extraProtection.ts';
import { runThroughNoCable } from './rules/noCable.ts';
import { openingCrossed } from './rules/openingCrossed.ts';
import {
  alarmCoverage,
  alarmsNotLinked,
  alarmTooNear,
  heatAlarmFar,
  nearHob,
  nearSink,
} from './rules/siting.ts';
import {
  escapeNoAlarm,
  guidanceNotHeld,
  kitchenNoHeatAlarm,
  roomOutOfReach,
  smokeAlarmFar,
} from './rules/alarms.ts';
import {
  bathroomIp,
  bathroomNoRcd,
  bathroomNotChecked,
  bathroomSocket,
  bathroomZone,
} from './rules/bathroom.ts';
import { bendTight } from './rules/bendTight.ts';
import { boxDepth, boxWrongGangs } from './rules/boxDepth.ts';
import { boxesBackToBack } from './rules/boxesBackToBack.ts';
import { mainsBesideData } from './rules/mainsBesideData.ts';
import { stripFull } from './rules/stripFull.ts';
import { nearPipe, polystyrene } from './rules/nearThings.ts';
import { boxMissing, heightNewDwelling, jointHidden } from './rules/pointFitting.ts';
import { joistChart } from './rules/joistChart.ts';
import { pointUnassigned } from './rules/pointOnCircuit.ts';
import { pointInOpening, pointOffWall } from './rules/pointPlaced.ts';
import { roomNotClosed } from './rules/roomNotClosed.ts';
import { endMismatch, parkedEnd, runNoCircuit, runUnresolved } from './rules/runEnds.ts';
import { runLongerThanDrum } from './rules/runLongerThanDrum.ts';
import { sameSpot } from './rules/sameSpot.ts';
import { insulated } from './rules/insulated.ts';
import { ttElectrode } from './rules/ttElectrode.ts';
import { scaleNone, scaleOne, scaleResidual } from './rules/scale.ts';
import { lightWithoutSwitch, switchWorksNothing } from './rules/switching.ts';
import { turnAway } from './rules/turnAway.ts';
import { zoneDisputed } from './rules/zoneDisputed.ts';
import { zoneOutside } from './rules/zoneOutside.ts';
import { ELECTRICAL_RULES } from './electrical.ts';
import { findingsOf, type CheckContext, type Rule, type SubjectKind, type Subjects } from './rule.ts';
import type { Finding } from './types.ts';

/** Rules by what they look at: so that a change re-runs no others. A new rule goes in here and nowhere else. */
export const RULES: { readonly [K in SubjectKind]: readonly Rule<K>[] } = {
  tracing: [scaleNone, scaleOne, scaleResidual],
  storey: [
    roomNotClosed,
    joistChart,
    alarmTooNear,
    alarmCoverage,
    heatAlarmFar,
    smokeAlarmFar,
    escapeNoAlarm,
    kitchenNoHeatAlarm,
    roomOutOfReach,
    guidanceNotHeld,
    alarmsNotLinked,
    nearSink,
    nearHob,
    bathroomSocket,
    bathroomZone,
    bathroomIp,
    bathroomNotChecked,
    bathroomNoRcd,
    ttElectrode,
  ],
  face: [sameSpot, boxesBackToBack, stripFull],
  point: [
    pointOffWall,
    pointInOpening,
    boxMissing,
    jointHidden,
    heightNewDwelling,
    pointUnassigned,
    boxDepth,
    boxWrongGangs,
    switchWorksNothing,
  ],
  circuit: [
    circuitNoBoard,
    circuitNotReachingBoard,
    ringOpen,
    pointUnreached,
    socketNoRcd,
    luminaireNoRcd,
    lightWithoutSwitch,
    ...ELECTRICAL_RULES,
  ],
  run: [
    runUnresolved,
    parkedEnd,
    zoneOutside,
    zoneDisputed,
    diagonal,
    openingCrossed,
    coverNeedsRcd,
    metalFrame,
    depthDoesNotFit,
    turnAway,
    runThroughNoCable,
    endMismatch,
    runNoCircuit,
    runLongerThanDrum,
    polystyrene,
    nearPipe,
    mainsBesideData,
    bendTight,
    insulated,
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

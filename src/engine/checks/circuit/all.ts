import { adiabatic } from './adiabatic.ts';
import { areaTooLarge } from './area.ts';
import type { ElectricalCheck } from './check.ts';
import { tooFewCores } from './cores.ts';
import { currentOverDevice } from './current.ts';
import { voltageDrop } from './drop.ts';
import { loopNearLimit, loopTooHigh } from './loop.ts';
import { ratingTooLow } from './rating.ts';
import { groupedAtBoard } from './grouped.ts';
import { ringLoad, ringStandard } from './ringStandard.ts';
import { ringTooLong, spurFeedsMore, spursTooMany } from './ring.ts';

/** Every check of a circuit, in the order they are told. */
export const ELECTRICAL_CHECKS: readonly ElectricalCheck[] = [
  currentOverDevice,
  ratingTooLow,
  groupedAtBoard,
  voltageDrop,
  loopTooHigh,
  loopNearLimit,
  ringStandard,
  ringLoad,
  ringTooLong,
  spurFeedsMore,
  spursTooMany,
  areaTooLarge,
  tooFewCores,
  adiabatic,
];

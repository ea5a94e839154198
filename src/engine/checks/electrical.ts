import { ELECTRICAL_CHECKS } from '../electrical/checks/all.ts';
import { ruleOf } from '../electrical/checks/check.ts';
import type { Rule } from './rule.ts';

/** The checks of circuits as rules. */
export const ELECTRICAL_RULES: readonly Rule<'circuit'>[] = ELECTRICAL_CHECKS.map(ruleOf);

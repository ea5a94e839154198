import { ELECTRICAL_CHECKS } from './circuit/all.ts';
import { ruleOf } from './circuit/check.ts';
import type { Rule } from './rule.ts';

/** The checks of circuits as rules. */
export const ELECTRICAL_RULES: readonly Rule<'circuit'>[] = ELECTRICAL_CHECKS.map(ruleOf);

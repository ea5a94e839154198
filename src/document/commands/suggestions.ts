import type { CircuitPlan } from '../../engine/routing/types.ts';
import type { Followed } from '../../engine/routing/follow.ts';
import { withSuggestion } from '../../engine/routing/trial.ts';
import type { Command } from '../types.ts';

/** Takes suggested runs into the plan: one step of the history, drawn and locked runs stay. Refused when there are none. */
export function takeSuggestion(plans: readonly CircuitPlan[]): Command {
  return {
    name: plans.length === 1 ? 'Take suggested route' : 'Take suggested routes',
    apply: (doc) => {
      if (plans.every((p) => p.runs.length === 0))
        return { ok: false, reason: plans[0]?.blocked[0] ?? 'There is nothing to route.' };
      const gone = plans.find((p) => doc.circuits.byId[p.circuit] === undefined);
      if (gone !== undefined)
        return { ok: false, reason: 'The circuit is no longer in the plan: suggest again.' };
      const lost = plans
        .flatMap((p) => p.runs.flatMap((r) => [r.from, r.to]))
        .find((id) => doc.points.byId[id] === undefined);
      if (lost !== undefined)
        return { ok: false, reason: 'A point of the suggestion is no longer in the plan: suggest again.' };
      const taken = withSuggestion(doc, plans);
      const left = plans.flatMap((p) => p.blocked).length;
      return {
        ok: true,
        ...taken,
        note:
          left === 0
            ? null
            : `${left} ${left === 1 ? 'point has' : 'points have'} no legal way: see Findings.`,
      };
    },
  };
}

/** Gives suggested runs their new corners after something moved. Runs that are gone meanwhile are passed over. */
export function followSuggestion(followed: Followed): Command {
  return {
    name: 'Re-route suggested runs',
    apply: (doc) => {
      const byId = { ...doc.runs.byId };
      for (const { run, corners } of followed.runs) {
        const old = byId[run];
        if (old !== undefined) byId[run] = { ...old, corners };
      }
      return { ok: true, doc: { ...doc, runs: { ...doc.runs, byId } }, made: [], note: null };
    },
  };
}

import { problemText } from '../document/codec/file.ts';
import { takeSuggestion } from '../document/commands/suggestions.ts';
import { deriveAll } from '../engine/derive/deriveAll.ts';
import type { PlanDocument } from '../engine/model/document.ts';
import { find } from '../engine/model/tables.ts';
import type { CircuitPlan } from '../engine/routing/types.ts';
import { decodePlan } from '../io/planFile.ts';
import { routingContext } from '../engine/routing/context.ts';
import { planCircuits, unroutedCircuits } from '../engine/routing/wholePlan.ts';
import { columns, reportOf, reportText } from './format.ts';

/** What the command line is answered with. */
export interface Answer {
  readonly code: 0 | 2;
  readonly out: string;
  readonly err: string;
}

export interface Options {
  readonly file: string;
  readonly json: boolean;
  readonly suggest: boolean;
}

const USAGE = 'usage: npm run --silent report -- FILE [--json] [--suggest]';

/** The options of the command line, or why they make no sense. */
export function readOptions(args: readonly string[]): Options | { readonly error: string } {
  const flags = args.filter((a) => a.startsWith('--'));
  const files = args.filter((a) => !a.startsWith('--'));
  const unknown = flags.find((f) => f !== '--json' && f !== '--suggest');
  if (unknown !== undefined) return { error: `unknown option ${unknown}; ${USAGE}` };
  const [file, ...more] = files;
  if (file === undefined || more.length > 0) return { error: USAGE };
  return { file, json: flags.includes('--json'), suggest: flags.includes('--suggest') };
}

interface Suggested {
  readonly doc: PlanDocument;
  readonly plans: readonly CircuitPlan[];
  readonly refused: string | null;
}

/** Routes every circuit that has no run yet, and takes the suggestion into the plan. */
function suggest(doc: PlanDocument): Suggested {
  const ctx = routingContext(doc);
  const steps = planCircuits(ctx, unroutedCircuits(doc));
  let step = steps.next();
  while (step.done !== true) step = steps.next();
  const plans = step.value;
  if (plans.every((p) => p.runs.length === 0)) return { doc, plans, refused: null };
  const taken = takeSuggestion(plans).apply(doc);
  return taken.ok ? { doc: taken.doc, plans, refused: null } : { doc, plans, refused: taken.reason };
}

const metres = (value: number): number => Math.round(value * 1000) / 1000;

function suggestedJson({ plans, refused }: Suggested) {
  return {
    circuits: plans.map((p) => ({
      circuit: p.circuit,
      runs: p.runs.length,
      metres: metres(p.count.metres),
      drops: p.count.drops,
      cost: metres(p.cost),
      exact_order: p.exactOrder,
      blocked: p.blocked,
    })),
    refused,
  };
}

function suggestedText({ doc, plans, refused }: Suggested): string {
  if (plans.length === 0) return 'Suggested: every circuit with points already has runs.\n\n';
  const lines = columns(
    [
      ['Suggested for', 'Runs', 'Metres', 'Drops', 'Blocked'],
      ...plans.map((p) => [
        find(doc, 'circuits', p.circuit)?.label ?? p.circuit,
        String(p.runs.length),
        p.count.metres.toFixed(3),
        String(p.count.drops),
        p.blocked.join(' '),
      ]),
    ],
    [1, 2, 3],
  );
  return `${[...lines, ...(refused === null ? [] : [`Not taken: ${refused}`])].join('\n')}\n\n`;
}

/** The whole of the report but reading and printing: file bytes in, text and exit code out. */
export function answerFor(options: Options, bytes: Uint8Array): Answer {
  const decoded = decodePlan(bytes);
  if (!decoded.ok) {
    return {
      code: 2,
      out: '',
      err: `${options.file}: ${problemText(decoded.problem).replaceAll(/\s+/g, ' ')}\n`,
    };
  }
  const suggested = options.suggest ? suggest(decoded.doc) : null;
  const doc = suggested?.doc ?? decoded.doc;
  const derived = deriveAll(doc);
  if (!options.json) {
    return { code: 0, out: (suggested ? suggestedText(suggested) : '') + reportText(doc, derived), err: '' };
  }
  const report = reportOf(doc, derived);
  const whole = suggested ? { ...report, suggested: suggestedJson(suggested) } : report;
  return { code: 0, out: `${JSON.stringify(whole, null, 1)}\n`, err: '' };
}

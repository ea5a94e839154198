import type { ReactNode } from 'react';
import type { Run } from '../../engine/model/document.ts';
import type { Mm } from '../../engine/model/units.ts';
import { cutWithAllowance } from '../../engine/takeoff/totals.ts';
import type { Answer, LegCheck } from '../../engine/zones/types.ts';
import { AnswerBadge } from '../ui/AnswerBadge.tsx';
import { metres } from '../ui/lengths.tsx';
import { runName } from '../ui/names.ts';
import { useDerived, useDoc } from '../ui/hooks.ts';
import { Unfinished, cutWorking } from '../ui/toCut.tsx';
import { Checked } from '../ui/Checked.tsx';

/** Metres of a run that share an answer and its reason. */
export interface Reason {
  readonly answer: Answer;
  readonly why: string;
  readonly length: Mm;
}

const GRAVEST: readonly Answer[] = ['outside', 'disputed', 'not-checked', 'inside'];

/** Why a run has its answer: the stretches of its legs, those with one answer and one reason together, gravest first. */
export function reasonsOf(legs: readonly LegCheck[]): Reason[] {
  const by = new Map<string, Reason>();
  for (const { answer, why, length } of legs.flatMap((leg) => leg.stretches)) {
    const key = `${answer} ${why}`;
    by.set(key, { answer, why, length: (by.get(key)?.length ?? 0) + length });
  }
  return [...by.values()].sort((a, b) => GRAVEST.indexOf(a.answer) - GRAVEST.indexOf(b.answer));
}

/** A run's name, answer and length to cut with its working, and why it, or one stretch of it, is not simply inside. */
export function RunAnswer(props: { readonly run: Run; readonly stretch: number | null }): ReactNode {
  const doc = useDoc();
  const derived = useDerived();
  const { run, stretch } = props;
  const check = derived.runs.get(run.id);
  const length = derived.takeOff.runs.get(run.id);
  const legs = (check?.legs ?? []).filter((leg) => stretch === null || leg.leg.stretch === stretch);
  // Of a whole run what is inside needs no word; of one stretch the reason is what was asked for.
  const reasons = reasonsOf(legs).filter((each) => stretch !== null || each.answer !== 'inside');
  return (
    <Checked plain>
      <p className="answers">
        {runName(doc, run)} {check && <AnswerBadge answer={check.answer} />}{' '}
        {length && (
          <b>
            {metres(cutWithAllowance(doc, length))} to cut <Unfinished length={length} />
          </b>
        )}
      </p>
      {length && <p className="quiet">{cutWorking(doc, length)}</p>}
      {check?.missing && <p className="help bad">{check.missing}</p>}
      {reasons.length > 0 && (
        <ul className="whys" aria-label="Why">
          {reasons.map(({ answer, why, length: of }) => (
            <li key={`${answer} ${why}`}>
              <AnswerBadge answer={answer} /> {metres(of)}: {why}
            </li>
          ))}
        </ul>
      )}
    </Checked>
  );
}

import { useState, type ReactNode } from 'react';
import type { PlanDocument } from '../../engine/model/document.ts';
import type { KeptPlan } from '../../io/storage/plans.ts';
import { PlanRow } from './PlanRow.tsx';

/** What may be opened when the last start did not come through. */
export interface StartChoices {
  readonly last: PlanDocument | null;
  readonly plans: readonly KeptPlan[];
  /** The last plan as it was about an hour ago, if that is kept. */
  readonly hourAgo: () => Promise<PlanDocument | null>;
  readonly read: (id: string) => Promise<PlanDocument | null>;
  readonly saveFile: (doc: PlanDocument) => Promise<void>;
}

/** What was chosen; null for an empty plan. */
export type Chosen = { readonly doc: PlanDocument; readonly plan: string | null } | null;

/** The last plan without what lies under it. */
function withoutPictures(doc: PlanDocument): PlanDocument {
  return { ...doc, tracings: { order: [], byId: {} } };
}

/** Stands instead of the page after a start that did not come through: nothing is drawn before the person has chosen. */
export function StartList(props: {
  readonly choices: StartChoices;
  readonly onChoose: (chosen: Chosen) => void;
}): ReactNode {
  const { choices, onChoose } = props;
  const { last, plans } = choices;
  const [said, say] = useState('');
  const open = (work: Promise<PlanDocument | null>, plan: string | null): void => {
    work.then(
      (doc) => (doc === null ? say('That could not be read.') : onChoose({ doc, plan })),
      () => say('That could not be read.'),
    );
  };
  const [first] = plans;
  return (
    <main className="start-list">
      <h1>Zonewright</h1>
      <p>
        The page was opened before and did not get as far as the plan. Nothing has been changed: choose what
        to open.
      </p>
      {last !== null && (
        <section aria-labelledby="last-plan">
          <h2 id="last-plan">{last.job.title}</h2>
          <div className="row">
            <button
              className="button"
              type="button"
              onClick={() => onChoose({ doc: last, plan: first?.id ?? null })}
            >
              Open it as it was
            </button>
            <button
              className="button"
              type="button"
              onClick={() => onChoose({ doc: withoutPictures(last), plan: null })}
            >
              Without its pictures
            </button>
            <button className="button" type="button" onClick={() => open(choices.hourAgo(), null)}>
              As it was an hour ago
            </button>
            <button
              className="button"
              type="button"
              onClick={() =>
                void choices.saveFile(last).then(
                  () => say('A file of it goes to your downloads: see that it is there.'),
                  () => say('No file could be made.'),
                )
              }
            >
              Save it as a file
            </button>
          </div>
        </section>
      )}
      {plans.length > 0 && (
        <section aria-labelledby="other-plans">
          <h2 id="other-plans">Plans kept in this browser</h2>
          <ul className="kept-plans">
            {plans.map((plan) => (
              <PlanRow key={plan.id} plan={plan}>
                <button className="button" type="button" onClick={() => open(choices.read(plan.id), plan.id)}>
                  Open
                </button>
              </PlanRow>
            ))}
          </ul>
        </section>
      )}
      <button className="button" type="button" onClick={() => onChoose(null)}>
        Start with an empty plan
      </button>
      <p role="status">{said}</p>
    </main>
  );
}

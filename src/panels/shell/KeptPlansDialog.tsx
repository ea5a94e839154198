import { useEffect, useState, type ReactNode } from 'react';
import { say } from '../../app/program.ts';
import type { KeptPlan, KeptState } from '../../io/storage/plans.ts';
import { Dialog } from '../ui/Dialog.tsx';
import { useProgram } from '../ui/hooks.ts';
import { useShown } from '../ui/useShown.tsx';
import { PlanRow, whenText } from './PlanRow.tsx';

/** The plans of this device: open one, bring an earlier state of it back as a new plan, remove it. */
export function KeptPlansDialog(props: { readonly onClose: () => void }): ReactNode {
  const program = useProgram();
  const { keptPlans } = program;
  const [plans, setPlans] = useState<readonly KeptPlan[] | null>(null);
  const [of, setOf] = useState<KeptPlan | null>(null);
  const [why, setWhy] = useState('');
  const look = (): void => {
    keptPlans.list().then(setPlans, (error: unknown) => setWhy(String(error)));
  };
  useEffect(look, [keptPlans]);
  const done = (work: Promise<string | null>): void => {
    void work.then((problem) => {
      if (problem !== null) say(program, problem, 'bad');
      else props.onClose();
    });
  };
  const remove = (plan: KeptPlan, on: boolean): void => {
    keptPlans.setRemoved(plan.id, on).then(look, (error: unknown) => setWhy(String(error)));
  };
  return (
    <Dialog
      title={of === null ? 'Plans kept in this browser' : `Earlier states of ${of.title}`}
      onClose={props.onClose}
    >
      {why !== '' && <p role="alert">{why}</p>}
      {of !== null ? (
        <States
          plan={of}
          onBack={() => setOf(null)}
          onBring={(seq) => done(keptPlans.bringBack(of.id, seq))}
        />
      ) : plans !== null && plans.length === 0 ? (
        <p className="quiet">None yet. A plan is listed from its first change on.</p>
      ) : (
        <ul className="kept-plans">
          {plans?.map((plan) => (
            <PlanRow key={plan.id} plan={plan}>
              {plan.removed !== null ? (
                <>
                  <span className="quiet">Removed.</span>
                  <button className="button" type="button" onClick={() => remove(plan, false)}>
                    Take it back
                  </button>
                </>
              ) : (
                <>
                  <button className="button" type="button" onClick={() => done(keptPlans.open(plan.id))}>
                    Open
                  </button>
                  <button className="button" type="button" onClick={() => setOf(plan)}>
                    Earlier states
                  </button>
                  <Remove onRemove={() => remove(plan, true)} />
                </>
              )}
            </PlanRow>
          ))}
        </ul>
      )}
      <p className="help">
        The last ten plans. Each change of today is kept, then one an hour for a week and one a day for a
        month. A browser may clear all of it: save what matters as a file.
      </p>
    </Dialog>
  );
}

/** Asks once more before it removes. */
function Remove(props: { readonly onRemove: () => void }): ReactNode {
  const [asked, setAsked] = useState(false);
  return asked ? (
    <button className="button" type="button" onClick={props.onRemove}>
      Really remove?
    </button>
  ) : (
    <button className="button" type="button" onClick={() => setAsked(true)}>
      Remove
    </button>
  );
}

function States(props: {
  readonly plan: KeptPlan;
  readonly onBack: () => void;
  readonly onBring: (seq: number) => void;
}): ReactNode {
  const { keptPlans } = useProgram();
  const { plan } = props;
  const [states, setStates] = useState<readonly KeptState[]>([]);
  const [seen, setSeen] = useState<{
    readonly seq: number;
    readonly path: string;
    readonly about: string;
  } | null>(null);
  useEffect(() => {
    keptPlans.states(plan.id).then(setStates, () => setStates([]));
  }, [keptPlans, plan]);
  const { shown, more } = useShown(states, 30);
  const look = (seq: number): void => {
    keptPlans.look(plan.id, seq).then(
      (found) =>
        setSeen(found === null ? { seq, path: '', about: 'It could not be read.' } : { seq, ...found }),
      () => setSeen({ seq, path: '', about: 'It could not be read.' }),
    );
  };
  return (
    <>
      <button type="button" className="link" onClick={props.onBack}>
        All plans
      </button>
      <ul className="kept-plans">
        {shown.map((state) => (
          <li key={state.seq} className="kept-plan">
            <div className="kept-about">
              <b>{whenText(state.at)}</b>
              <span className="quiet">{state.change}</span>
              {seen?.seq === state.seq && (
                <figure>
                  <svg viewBox="0 0 120 80" width="360" height="240" aria-hidden="true">
                    <path d={seen.path} fill="none" stroke="currentColor" strokeWidth="1" />
                  </svg>
                  <figcaption>{seen.about}</figcaption>
                </figure>
              )}
            </div>
            <div className="row">
              <button className="button" type="button" onClick={() => look(state.seq)}>
                Look at it
              </button>
              <button className="button" type="button" onClick={() => props.onBring(state.seq)}>
                Bring back as a new plan
              </button>
            </div>
          </li>
        ))}
      </ul>
      {more}
    </>
  );
}

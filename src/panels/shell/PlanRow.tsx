import type { ReactNode } from 'react';
import './keptPlans.css';
import type { KeptPlan } from '../../io/storage/plans.ts';

/** "25 Nov 2026, 16:40", as the device writes dates. */
export function whenText(at: number): string {
  return new Date(at).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
}

const sizeText = (size: number): string =>
  size < 1e6 ? `${Math.max(1, Math.round(size / 1000))} kB` : `${(size / 1e6).toFixed(1)} MB`;

/** One plan of the list: its drawing, title, when it was changed and how large it is, and what can be done with it. */
export function PlanRow(props: { readonly plan: KeptPlan; readonly children: ReactNode }): ReactNode {
  const { plan } = props;
  return (
    <li className="kept-plan">
      <svg viewBox="0 0 120 80" width="90" height="60" aria-hidden="true">
        <path d={plan.picture} fill="none" stroke="currentColor" strokeWidth="2" />
      </svg>
      <div className="kept-about">
        <b>{plan.title}</b>
        <span className="quiet">
          {whenText(plan.at)}, {sizeText(plan.size)}
        </span>
      </div>
      <div className="row">{props.children}</div>
    </li>
  );
}

import { useState, type ReactNode } from 'react';
import type { Circuit, PlanDocument } from '../../engine/model/document.ts';
import type { WayCompared } from '../../engine/routing/compare.ts';
import type { DrumPlan } from '../../engine/takeoff/types.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';
import { sameGround, type SuggestState } from '../../app/suggest/suggestions.ts';

type Ways = NonNullable<SuggestState['ways']>;

export const WAY_NAMES: Readonly<Record<WayCompared['way'], string>> = {
  ceiling: 'Over the ceiling',
  walls: 'Along the walls',
  floor: 'Under the floor',
  best: 'Best mix',
  now: 'As it is now',
};
const SHORT: Readonly<Record<WayCompared['way'], string>> = {
  ceiling: 'Ceiling',
  walls: 'Walls',
  floor: 'Floor',
  best: 'Mix',
  now: 'Now',
};

interface Line {
  readonly name: string;
  readonly title: string;
  /** What is compared: the least is marked. */
  readonly value: (way: WayCompared) => number | null;
  readonly show?: (way: WayCompared) => string;
}

const m = (value: number): string => value.toFixed(2);
const drumCost = (way: WayCompared): number | null =>
  way.drums.some((plan) => plan.cost === null)
    ? null
    : way.drums.reduce((sum, plan) => sum + (plan.cost ?? 0), 0);

const LINES: readonly Line[] = [
  {
    name: 'Metres',
    title: 'Cable in three dimensions, without tails',
    value: (w) => w.metres,
    show: (w) => m(w.metres),
  },
  {
    name: 'To cut, m',
    title: 'With tails and allowance',
    value: (w) => w.cutMetres,
    show: (w) => m(w.cutMetres),
  },
  {
    name: 'Drums, m',
    title: 'For the whole plan, cables of this circuit: metres bought',
    value: (w) => w.drums.reduce((s, p) => s + p.bought, 0),
  },
  {
    name: 'Drums cost',
    title: 'For the whole plan, cables of this circuit',
    value: drumCost,
    show: (w) => drumCost(w)?.toFixed(2) ?? '—',
  },
  { name: 'Drops', title: 'Times it goes between a wall and a void', value: (w) => w.drops },
  { name: 'Timber holes', title: 'Through joists, studs and plates', value: (w) => w.timberHoles },
  {
    name: 'Chase, m',
    title: 'Metres on masonry',
    value: (w) => w.chaseMetres,
    show: (w) => m(w.chaseMetres),
  },
  { name: 'Through walls', title: 'Holes from room to room', value: (w) => w.throughWalls },
  {
    name: 'Ring, m',
    title: 'Length of the ring against its limit',
    value: (w) => w.ring?.metres ?? null,
    show: (w) => (w.ring ? w.ring.metres.toFixed(1) : '—'),
  },
  { name: 'No way for', title: 'Points and runs it cannot reach', value: (w) => w.blocked.length },
  {
    name: 'Findings',
    title: 'What the checks say of this circuit, if it is taken',
    value: (w) => w.findings,
  },
];

/** The ways side by side. Pointing at one draws it over the plan and the walls; choosing keeps it there. */
export function WaysTable(props: {
  readonly circuit: Circuit;
  readonly compared: Ways;
  readonly drawn: number;
}): ReactNode {
  const doc = useDoc();
  const { suggestions } = useProgram();
  const { ways } = props.compared;
  const [chosen, setChosen] = useState<WayCompared['way'] | null>(null);
  const { taken } = props.compared;
  const isTaken = taken !== null && sameGround(taken.doc, doc);
  const stale = !isTaken && !sameGround(props.compared.doc, doc);
  const show = (way: WayCompared['way'] | null): void => {
    const found = ways.find((w) => w.way === way);
    suggestions.show(!stale && found?.plan ? [found.plan] : null);
  };
  const whole = ways.filter((w) => w.blocked.length === 0);
  const ring = ways.some((w) => w.ring !== null);
  const lines = LINES.filter(
    (line) =>
      (line.name !== 'Ring, m' || ring) &&
      (line.name !== 'Drums cost' || ways.some((w) => drumCost(w) !== null)) &&
      (line.name !== 'No way for' || ways.some((w) => w.blocked.length > 0)),
  );
  const picked = ways.find((w) => w.way === chosen);
  return (
    <div className="ways" onPointerLeave={() => show(chosen)}>
      <div className="scroll">
        <table className="table">
          <caption className="unseen">Ways for {props.circuit.name}, side by side</caption>
          <thead>
            <tr>
              <td />
              {ways.map((way) => (
                <th key={way.way} scope="col" onPointerEnter={() => show(way.way)}>
                  {way.plan === null ? (
                    <span title={WAY_NAMES[way.way]}>{isTaken ? 'Before' : SHORT[way.way]}</span>
                  ) : (
                    <button
                      className="button"
                      type="button"
                      aria-pressed={chosen === way.way}
                      aria-label={WAY_NAMES[way.way]}
                      title={WAY_NAMES[way.way]}
                      onFocus={() => show(way.way)}
                      onBlur={() => show(chosen)}
                      onClick={() => {
                        const next = chosen === way.way ? null : way.way;
                        setChosen(next);
                        show(next);
                      }}
                    >
                      {SHORT[way.way]}
                    </button>
                  )}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {lines.map((line) => {
              const least = Math.min(...whole.map((w) => line.value(w) ?? Infinity));
              const differ = whole.some((w) => Math.abs((line.value(w) ?? least) - least) > 0.005);
              return (
                <tr key={line.name} title={line.title}>
                  <th scope="row">{line.name}</th>
                  {ways.map((way) => {
                    const value = line.value(way);
                    const best = differ && whole.includes(way) && value !== null && value - least <= 0.005;
                    const over =
                      line.name === 'Ring, m' && way.ring !== null && way.ring.metres > way.ring.limit;
                    return (
                      <td
                        key={way.way}
                        className={`num${best ? ' least' : ''}${over ? ' bad' : ''}${chosen === way.way ? ' on' : ''}`}
                        onPointerEnter={() => show(way.way)}
                      >
                        {line.show ? line.show(way) : (value ?? '—')}
                      </td>
                    );
                  })}
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      <p className="quiet">
        The least of each is bold.
        {ring &&
          ` A ring may be ${ways.find((w) => w.ring)?.ring?.limit} m long (On-Site Guide table 7.1(i), 2.5/1.5 mm², 32 A type B).`}
      </p>
      {ways.map((way) => way.blocked.length > 0 && <Blocked key={way.way} way={way} />)}
      {picked?.plan && (
        <div className="ways-take">
          <p>
            <b>{WAY_NAMES[picked.way]}</b>: {drumsText(picked.drums, doc)}
          </p>
          {!picked.plan.exactOrder && picked.plan.orderCost > 0 && (
            <p className="quiet">
              Order of the points: at most{' '}
              {(((picked.plan.orderCost - picked.plan.orderBound) / picked.plan.orderCost) * 100).toFixed(1)}{' '}
              % above the least there can be.
            </p>
          )}
          <button
            type="button"
            className="button primary"
            disabled={stale || picked.plan.runs.length === 0 || (isTaken && taken.way === picked.way)}
            onClick={() => {
              if (suggestions.take(picked)?.ok) setChosen(null);
            }}
          >
            Take this way
          </button>
          {!isTaken && props.drawn > 0 && props.compared.replaces === 'drawn' && (
            <p className="help">
              It takes the place of {props.drawn} {props.drawn === 1 ? 'run' : 'runs'} drawn by hand.
            </p>
          )}
        </div>
      )}
      {isTaken && (
        <p>
          <b>{WAY_NAMES[taken.way]}</b> is taken. Another can be taken in its place.
        </p>
      )}
      {stale && <p className="help warn">The plan has changed since: compare again.</p>}
    </div>
  );
}

function Blocked(props: { readonly way: WayCompared }): ReactNode {
  const { way } = props;
  return (
    <details className="blocked">
      <summary>
        {WAY_NAMES[way.way]}: no way for {way.blocked.length}
      </summary>
      <ul className="whys">
        {way.blocked.map((reason, i) => (
          <li key={i}>{reason}</li>
        ))}
      </ul>
    </details>
  );
}

/** "1.5 mm²: 1 × 50 m; 2.5 mm²: 50 m + 25 m, 84.00". */
function drumsText(plans: readonly DrumPlan[], doc: PlanDocument): string {
  const parts = plans.map((plan) => {
    const bought = plan.drums.filter((d) => !d.owned).map((d) => `${d.length} m`);
    const cost = plan.cost === null || bought.length === 0 ? '' : `, ${plan.cost.toFixed(2)}`;
    const name = doc.cables.byId[plan.cable]?.name ?? plan.cable;
    return `${name}: ${bought.length === 0 ? 'no drum to buy' : bought.join(' + ')}${cost}`;
  });
  return `drums for the whole plan then: ${parts.join('; ')}.`;
}

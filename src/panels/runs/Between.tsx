import type { RouteCount } from '../../engine/routing/types.ts';
import type { ReactNode } from 'react';
import { find } from '../../engine/model/tables.ts';
import { useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { sameGround } from '../../app/suggest/suggestions.ts';
import { useSuggest } from '../ui/useSuggest.ts';

/** A run between the two points that are selected. */
export function Between(): ReactNode {
  const program = useProgram();
  const { suggestions } = program;
  const doc = useDoc();
  const run = useSuggest((state) => state.run);
  const busy = useSuggest((state) => state.busy);
  const selection = useSession((s) => s.selection);
  const points = selection.flatMap((ref) =>
    ref.table === 'points' ? (find(doc, 'points', ref.id) ?? []) : [],
  );
  const [a, b] = points;
  const two = points.length === 2 && selection.length === 2 && a !== undefined && b !== undefined;
  const mine =
    two && run !== null && run.from === a.id && run.to === b.id && sameGround(run.doc, doc) ? run : null;
  if (!two)
    return (
      <p className="quiet">
        For a single run, select its two points (the second with Shift held), and suggest it here.
      </p>
    );
  const boards = [a, b].filter((p) => p.kind === 'consumer-unit');
  const circuit =
    a.circuit === b.circuit || boards.length > 0
      ? (a.circuit ?? b.circuit)
      : program.session.getState().choices.circuit;
  return (
    <section aria-label="Suggest a run">
      <div className="row">
        <button
          className="button"
          type="button"
          disabled={busy !== null}
          onClick={() => suggestions.between(a.id, b.id, circuit)}
        >
          Suggest a run {a.label} to {b.label}
        </button>
        {mine?.route.ok && (
          <button type="button" className="button primary" onClick={() => suggestions.takeBetween()}>
            Take this run
          </button>
        )}
      </div>
      {mine !== null && (
        <p role="status" className={mine.route.ok ? undefined : 'help bad'}>
          {mine.route.ok ? routeWords(mine.route.count) : mine.route.reason}
        </p>
      )}
    </section>
  );
}

const many = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

/** What a route is made of, in one line. */
function routeWords(count: RouteCount): string {
  return [
    `${count.metres.toFixed(2)} m`,
    many(count.bends, 'bend'),
    many(count.drops, 'drop'),
    many(Math.ceil(count.timberHoles), 'timber hole'),
    `${count.chaseMetres.toFixed(2)} m chased`,
    `${many(count.throughWalls, 'wall')} gone through.`,
  ].join(', ');
}

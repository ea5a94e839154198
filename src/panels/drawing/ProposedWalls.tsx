import { useState, type ReactNode } from 'react';
import {
  acceptProposed,
  nearestBuildUp,
  refuseProposed,
  thicknessGroups,
  thicknessOf,
} from '../../app/proposals.ts';
import type { Id } from '../../engine/model/document.ts';
import type { ProposedWall } from '../../engine/model/proposedWall.ts';
import { toggled } from '../../tools/proposedWalls.ts';
import type { WallProposal } from '../../tools/types.ts';
import { SelectField } from '../ui/fields.tsx';
import { metres, showLength } from '../ui/lengths.tsx';
import { buildUpOptions } from '../ui/options.ts';
import { useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { usePrefs } from '../ui/usePrefs.ts';

/** Walls that were found on a drawing, to accept or refuse: all that are ticked at once, or one by one. */
export function ProposedWalls(): ReactNode {
  const proposal = useSession((state) => state.proposal);
  const storey = useSession((state) => state.storey);
  return proposal?.storey === storey ? <Proposal proposal={proposal} /> : null;
}

function Proposal({ proposal }: { readonly proposal: WallProposal }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { units } = usePrefs();
  const tool = useSession((state) => state.tool);
  /** By thickness, rounded: what the person chose instead of the nearest build-up. */
  const [chosen, setChosen] = useState<Readonly<Record<number, Id>>>({});
  const { walls, ticked } = proposal;
  const groups = thicknessGroups(walls).map((group) => {
    const key = Math.round(group.thickness);
    const picked = doc.buildUps.byId[chosen[key] ?? ''];
    return { ...group, key, build: picked ?? nearestBuildUp(doc, group.thickness) };
  });
  const buildUpOf = (wall: number): Id => groups.find((g) => g.walls.includes(wall))?.build?.id ?? '';
  const accept = (which: ReadonlySet<number>): void => void acceptProposed(program, which, buildUpOf);
  const set = (next: WallProposal): void => program.session.set({ proposal: next });
  const every = new Set(walls.map((_, i) => i));
  return (
    <section className="card proposed" aria-label="Proposed walls">
      <h3>
        {walls.length} {walls.length === 1 ? 'wall' : 'walls'} proposed from {proposal.from}
      </h3>
      <p className="help">Nothing is drawn until you accept it. {proposal.blind}</p>
      {groups.map((group) => (
        <SelectField
          key={group.key}
          label={`${showLength(group.key, units)} thick, ${metres(group.length)}: build as`}
          value={group.build?.id ?? ''}
          options={buildUpOptions(doc)}
          onCommit={(id) => setChosen({ ...chosen, [group.key]: id })}
          {...(group.build && Math.abs(thicknessOf(group.build) - group.thickness) > 20
            ? {
                help: `That build-up is ${showLength(thicknessOf(group.build), units)} thick. Middles stay where they are.`,
              }
            : {})}
        />
      ))}
      <div className="row">
        <button
          type="button"
          className="button primary"
          disabled={ticked.size === 0}
          onClick={() => accept(ticked)}
        >
          Accept {ticked.size} ticked
        </button>
        <button type="button" className="button" onClick={() => refuseProposed(program, every)}>
          Refuse all
        </button>
        {tool !== 'proposed-walls' && (
          <button
            type="button"
            className="button"
            onClick={() => program.session.set({ tool: 'proposed-walls' })}
          >
            Tick on the plan
          </button>
        )}
      </div>
      <ol className="pieces">
        {walls.map((wall, i) => (
          <li
            key={i}
            data-chosen={i === proposal.chosen || undefined}
            onPointerEnter={() => set({ ...proposal, chosen: i })}
            onFocus={() => i !== proposal.chosen && set({ ...proposal, chosen: i })}
          >
            <label>
              <input type="checkbox" checked={ticked.has(i)} onChange={() => set(toggled(proposal, i))} />
              {pieceText(wall, i, (mm) => showLength(Math.round(mm), units))}
            </label>
            <button
              type="button"
              className="button plain"
              aria-label={`Accept proposed wall ${i + 1}`}
              onClick={() => accept(new Set([i]))}
            >
              ✓
            </button>
            <button
              type="button"
              className="button plain"
              aria-label={`Refuse proposed wall ${i + 1}`}
              onClick={() => refuseProposed(program, new Set([i]))}
            >
              ✕
            </button>
          </li>
        ))}
      </ol>
    </section>
  );
}

function pieceText(wall: ProposedWall, i: number, show: (mm: number) => string): string {
  const gaps = wall.openings.length;
  const length = show(Math.hypot(wall.b.x - wall.a.x, wall.b.y - wall.a.y));
  const with_ = gaps === 0 ? '' : gaps === 1 ? ', 1 gap' : `, ${gaps} gaps`;
  return `Wall ${i + 1}: ${length}${with_}${wall.assumed ? ', thickness not seen' : ''}`;
}

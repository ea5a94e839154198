import type { ReactNode } from 'react';
import { useShown } from '../ui/useShown.tsx';
import { editJob } from '../../document/commands/job.ts';
import { rows } from '../../engine/model/tables.ts';
import { cutWithAllowance } from '../../engine/takeoff/totals.ts';
import { AnswerBadge } from '../ui/AnswerBadge.tsx';
import { Choice, SelectField } from '../ui/fields.tsx';
import { First } from '../ui/First.tsx';
import { metres } from '../ui/lengths.tsx';
import { EDITIONS, NONE, THINGS, cableOptions, circuitOptions, orNull } from '../ui/options.ts';
import { perform, pick } from '../../app/program.ts';
import { useDerived, useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { runName } from '../ui/names.ts';
import { RunOrigin } from './RunOrigin.tsx';
import { SuggestPanel } from './SuggestPanel.tsx';
import { showRun } from '../../app/show.ts';
import { Unfinished, cutWorking } from '../ui/toCut.tsx';

/** Choices of the next run, the edition the checks follow, and the runs with their answers. */
export function RunsPanel(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const choices = useSession((state) => state.choices);
  const tool = useSession((state) => state.tool);
  const choose = (patch: Partial<typeof choices>): void =>
    program.session.set({ choices: { ...choices, ...patch } });
  return (
    <>
      {doc.runs.order.length === 0 && <First />}
      {tool === 'thing' && (
        <SelectField
          label="What is in the way"
          value={choices.thing}
          options={THINGS}
          onCommit={(thing) => choose({ thing })}
        />
      )}
      {tool === 'run' && (
        <div className="fields">
          <SelectField
            label="Circuit of the next run"
            value={choices.circuit ?? NONE}
            options={circuitOptions(doc, 'As its ends say')}
            onCommit={(circuit) => choose({ circuit: orNull(circuit) })}
          />
          <SelectField
            label="Cable of the next run"
            value={choices.cable ?? NONE}
            options={[{ value: NONE, text: 'As its circuit says' }, ...cableOptions(doc)]}
            onCommit={(cable) => choose({ cable: orNull(cable) })}
          />
          <Choice
            label="On the plan it goes"
            value={choices.void}
            options={[
              { value: 'ceiling', text: 'Over the ceiling' },
              { value: 'floor', text: 'Under the floor' },
            ]}
            onCommit={(way) => choose({ void: way as typeof choices.void })}
          />
        </div>
      )}
      <SelectField
        label="Checked against"
        value={doc.job.edition}
        options={EDITIONS}
        help={
          doc.job.edition === 'bs7671-2018-a3'
            ? 'This edition was withdrawn in October 2026: for work begun under it.'
            : undefined
        }
        onCommit={(edition) => perform(program, editJob({ edition }))}
      />
      <SuggestPanel />
      <RunTable />
    </>
  );
}

function RunTable(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const derived = useDerived();
  const selection = useSession((state) => state.selection);
  const runs = rows(doc.runs);
  const { shown, more } = useShown(runs, 100);
  if (runs.length === 0) return null;
  const refused = derived.takeOff.scale.state === 'refused';
  return (
    <details open>
      <summary>
        <h3>Runs</h3>
        <span className="count">{runs.length}</span>
      </summary>
      <table className="table runs">
        <thead>
          <tr>
            <th scope="col">Run</th>
            <th scope="col">Answer</th>
            <th scope="col" className="num">
              To cut
            </th>
          </tr>
        </thead>
        <tbody>
          {shown.map((run) => {
            const check = derived.runs.get(run.id);
            const length = derived.takeOff.runs.get(run.id);
            return (
              <tr
                key={run.id}
                className={
                  selection.some((ref) => ref.table === 'runs' && ref.id === run.id) ? 'on' : undefined
                }
                onPointerEnter={() => program.session.set({ lit: new Set([`run:${run.id}`]) })}
                onPointerLeave={() => program.session.set({ lit: new Set() })}
              >
                <th scope="row">
                  <button
                    type="button"
                    className="link"
                    onClick={() => {
                      pick(program, 'runs', run.id);
                      showRun(program, run.id);
                    }}
                  >
                    {runName(doc, run)}
                  </button>
                  <small>{doc.cables.byId[run.cable]?.name}</small>
                  <RunOrigin run={run} />
                </th>
                <td>{check ? <AnswerBadge answer={check.answer} /> : null}</td>
                <td className="num" title={length && cutWorking(doc, length)}>
                  {refused ? 'refused' : length && metres(cutWithAllowance(doc, length))}
                  {!refused && <Unfinished length={length ?? { whole: false }} />}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
      {more}
    </details>
  );
}

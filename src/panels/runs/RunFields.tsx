import type { ReactNode } from 'react';
import { removeCorner } from '../../document/commands/runCorners.ts';
import { editRuns, reverseRuns, setAsLaid } from '../../document/commands/runs.ts';
import type { Run } from '../../engine/model/document.ts';
import { CheckField, SelectField, TextField } from '../ui/fields.tsx';
import { LengthField } from '../ui/lengths.tsx';
import { NONE, FIXINGS, PROTECTIONS, cableOptions, circuitOptions, orNull } from '../ui/options.ts';
import { perform } from '../../app/program.ts';
import { useDerived, useDoc, useProgram } from '../ui/hooks.ts';
import { RunAnswer } from './RunAnswer.tsx';

type Fields = Parameters<typeof editRuns>[1];

/** All fields of one run: its answer and metres first. */
export function RunFields(props: { readonly run: Run; readonly part: string | null }): ReactNode {
  const program = useProgram();
  const derived = useDerived();
  const { run, part } = props;
  const length = derived.takeOff.runs.get(run.id);
  const edit = (fields: Fields): string | void => {
    const outcome = perform(program, editRuns([run.id], fields));
    if (!outcome.ok) return outcome.reason;
  };
  const corner = part?.startsWith('corner:') ? Number(part.slice(7)) : null;
  const stretch = part?.startsWith('leg:') ? Number(part.slice(4)) : null;
  return (
    <>
      <RunAnswer run={run} stretch={stretch} />
      {corner !== null && run.corners[corner] && (
        <button
          className="button"
          type="button"
          onClick={() => {
            const outcome = perform(program, removeCorner(run.id, corner));
            if (outcome.ok) program.session.set({ selection: [{ table: 'runs', id: run.id, part: null }] });
          }}
        >
          Take corner {corner + 1} out
        </button>
      )}
      <SharedRunFields runs={[run]} edit={edit} />
      <LengthField<number | null>
        label="Depth of its centre from the surface"
        value={run.depth}
        max={1000}
        empty="From the build-up of the wall"
        onCommit={(depth) => edit({ depth })}
      />
      <LengthField<number | null>
        label="Tail at the start"
        value={run.tailFrom}
        max={20000}
        empty={length ? length.tailFromWhy : 'As the allowances say'}
        onCommit={(tailFrom) => edit({ tailFrom })}
      />
      <LengthField<number | null>
        label="Tail at the end"
        value={run.tailTo}
        max={20000}
        empty={length ? length.tailToWhy : 'As the allowances say'}
        onCommit={(tailTo) => edit({ tailTo })}
      />
      <CheckField
        label="Locked: not moved by a drag or a suggestion"
        value={run.locked}
        onCommit={(locked) => void edit({ locked })}
      />
      <SelectField
        label="As laid"
        value={run.asLaid.state}
        options={[
          { value: 'not-recorded', text: 'Not recorded' },
          { value: 'as-drawn', text: 'As drawn' },
          { value: 'differently', text: 'Differently' },
        ]}
        onCommit={(state) =>
          perform(
            program,
            setAsLaid([run.id], {
              state,
              note: run.asLaid.note || (state === 'differently' ? 'See notes' : ''),
            }),
          )
        }
      />
      {run.asLaid.state === 'differently' && (
        <TextField
          label="How it was laid"
          value={run.asLaid.note}
          onCommit={(note) => {
            const outcome = perform(program, setAsLaid([run.id], { state: 'differently', note }));
            if (!outcome.ok) return outcome.reason;
          }}
        />
      )}
      <TextField label="Notes" value={run.notes} onCommit={(notes) => edit({ notes })} />
      <button className="button" type="button" onClick={() => perform(program, reverseRuns([run.id]))}>
        Turn end for end
      </button>
    </>
  );
}

/** Fields that make sense for one run and for several. */
export function SharedRunFields(props: {
  readonly runs: readonly Run[];
  readonly edit: (fields: Fields) => string | void;
}): ReactNode {
  const doc = useDoc();
  const { runs, edit } = props;
  const same = <T,>(read: (run: Run) => T): T | 'mixed' => {
    const first = runs[0];
    return first && runs.every((each) => read(each) === read(first)) ? read(first) : 'mixed';
  };
  const mixed = { value: 'mixed', text: 'Several' };
  const field = <T extends string>(
    label: string,
    value: T | 'mixed',
    options: readonly { readonly value: T; readonly text: string }[],
    commit: (value: T) => void,
    help?: string,
  ): ReactNode => (
    <SelectField<string>
      label={label}
      value={value}
      options={value === 'mixed' ? [mixed, ...options] : options}
      help={help}
      onCommit={(next) => {
        if (next !== 'mixed') commit(next as T);
      }}
    />
  );
  const protection = same((run) => run.protection);
  return (
    <>
      {field(
        'Circuit',
        same((run) => run.circuit ?? NONE),
        circuitOptions(doc, 'Not assigned'),
        (circuit) => edit({ circuit: orNull(circuit) }),
      )}
      {field(
        'Cable',
        same((run) => run.cable),
        cableOptions(doc),
        (cable) => edit({ cable }),
      )}
      {field(
        'How it is fixed',
        same((run) => run.fixing),
        FIXINGS,
        (fixing) => edit({ fixing }),
      )}
      {field(
        'Mechanical protection',
        protection,
        PROTECTIONS,
        (next) => edit({ protection: next }),
        protection === 'capping'
          ? 'Capping keeps the plasterer’s trowel off; it does not stop a nail.'
          : undefined,
      )}
    </>
  );
}

import type { ReactNode } from 'react';
import { questions, type Question } from '../../engine/circuitReport/schedule.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import { rows } from '../../engine/model/tables.ts';
import { circuitName } from '../ui/names.ts';
import { useProgram } from '../ui/hooks.ts';
import { useAllFacts } from './useFacts.ts';
import { PrintSheet } from '../ui/PrintSheet.tsx';
import { questionsCsv } from './sheetRows.ts';

interface Group {
  readonly key: string;
  readonly name: string;
  readonly questions: readonly Question[];
}

function grouped(doc: PlanDocument, all: readonly Question[]): Group[] {
  const job = { key: 'job', name: 'The job', questions: all.filter((q) => q.circuit === null) };
  const circuits = rows(doc.circuits).map((circuit) => ({
    key: circuit.id,
    name: circuitName(circuit),
    questions: all.filter((q) => q.circuit === circuit.id),
  }));
  return [job, ...circuits].filter((group) => group.questions.length > 0);
}

/** What the designer must decide or fill in, on paper. What is not known is left blank to write in. */
export function QuestionsSheet(props: { readonly onClose: () => void }): ReactNode {
  const program = useProgram();
  const { input, share } = useAllFacts();
  const all = input === null ? [] : questions(input);
  return (
    <PrintSheet
      title="Questions for your electrician"
      csv={
        input === null
          ? null
          : { ending: '-questions.csv', rows: () => questionsCsv(input, all, program.today()) }
      }
      onClose={props.onClose}
    >
      {input === null ? (
        <p>Working the circuits out: {Math.round(share * 100)} %</p>
      ) : (
        <>
          <p>
            What this plan cannot know or must not decide. Where the plan has a value it stands there to be
            confirmed; the lines are left blank to write on.
          </p>
          {grouped(input.doc, all).map((group) => (
            <section key={group.key} className="question-group">
              <h3>{group.name}</h3>
              <ol>
                {group.questions.map((q) => (
                  <li key={q.key}>
                    <p>{q.ask}</p>
                    {q.answer !== null && <p className="given">In the plan: {q.answer}</p>}
                    <span className="blank wide" aria-label="left blank" />
                  </li>
                ))}
              </ol>
            </section>
          ))}
          <p className="signed">
            Answered by <span className="blank" /> Date <span className="blank" />
          </p>
        </>
      )}
    </PrintSheet>
  );
}

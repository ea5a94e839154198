import type { ReactNode } from 'react';
import { useProgram } from '../ui/hooks.ts';
import { useAllFacts } from './useFacts.ts';
import { PrintSheet } from '../ui/PrintSheet.tsx';
import { SCHEDULE_COLUMNS, scheduleCsv, scheduleOf, scheduleSources, shown } from './sheetRows.ts';
import { ranked } from '../../engine/model/evidence.ts';

/** The circuit schedule on paper. */
export function ScheduleSheet(props: { readonly onClose: () => void }): ReactNode {
  const program = useProgram();
  const { input, share } = useAllFacts();
  return (
    <PrintSheet
      title="Circuit schedule"
      landscape
      csv={
        input === null
          ? null
          : { ending: '-circuit-schedule.csv', rows: () => scheduleCsv(input, program.today()) }
      }
      onClose={props.onClose}
    >
      {input === null ? (
        <p>Working the circuits out: {Math.round(share * 100)} %</p>
      ) : (
        <>
          <p>
            Supply {input.doc.job.supply.earthing}, Ze {input.doc.job.supply.ze} Ω,{' '}
            {input.doc.job.supply.nominalV} V; fault current at the board{' '}
            {input.doc.job.supply.faultCurrent === null ? (
              <span className="blank" />
            ) : (
              `${input.doc.job.supply.faultCurrent} A`
            )}
            ; ambient {input.doc.job.ambient} °C.
          </p>
          <div className="paper-scroll">
            <table>
              <thead>
                <tr>
                  {SCHEDULE_COLUMNS.map((column) => (
                    <th key={column.head} scope="col">
                      {column.head}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {scheduleOf(input).map((row) => (
                  <tr key={row.circuit}>
                    {SCHEDULE_COLUMNS.map((column) => (
                      <td
                        key={column.head}
                        className={typeof column.cell(row) === 'number' ? 'num' : undefined}
                      >
                        {shown(column, row)}
                      </td>
                    ))}
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          <section className="legend-text">
            <h3>Legend</h3>
            <p>
              {SCHEDULE_COLUMNS.map((column) => `${column.head}: ${column.about}`).join('. ')}. A blank was
              not known when this was printed: it is for the designer to fill in.
            </p>
            <ul>
              {scheduleSources(input).map(({ of, source }) => (
                <li key={of}>
                  {of}: {ranked(source)}.
                </li>
              ))}
            </ul>
          </section>
        </>
      )}
    </PrintSheet>
  );
}

import type { ReactNode } from 'react';
import { PrintSheet } from '../ui/PrintSheet.tsx';
import { useDerived, useDoc } from '../ui/hooks.ts';
import { takeOffRows, takeOffSections, takeOffWarning } from './takeOffText.ts';
import { Checked } from '../ui/Checked.tsx';

/** The take-off on paper: what is missing first, then metres, drums and everything else to buy. */
export function TakeOffSheet(props: { readonly onClose: () => void }): ReactNode {
  const doc = useDoc();
  const derived = useDerived();
  const warning = takeOffWarning(doc, derived);
  return (
    <PrintSheet
      title="Take-off"
      csv={{ ending: '-take-off.csv', rows: () => takeOffRows(doc, derived) }}
      onClose={props.onClose}
    >
      <Checked sums>
        {warning !== null && (
          <p>
            <b>{warning}</b>
          </p>
        )}
        {takeOffSections(doc, derived).map(({ head, rows, places }, at) => (
          <div className="paper-scroll" key={at}>
            <table>
              <thead>
                <tr>
                  {head.map((cell) => (
                    <th key={String(cell)} scope="col">
                      {cell}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {rows.map((row, index) => (
                  <tr key={index}>
                    {row.map((cell, column) => (
                      <td key={column} className={typeof cell === 'number' ? 'num' : undefined}>
                        {typeof cell === 'number' && places !== null ? cell.toFixed(places) : cell}
                      </td>
                    ))}
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        ))}
      </Checked>
    </PrintSheet>
  );
}

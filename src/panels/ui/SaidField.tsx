import type { ReactNode } from 'react';
import { SelectField } from './fields.tsx';

const ANSWERS = [
  { value: 'unsaid', text: 'Not said yet' },
  { value: 'yes', text: 'Yes' },
  { value: 'no', text: 'No' },
] as const;

/** A question with a third answer: nobody has said. */
export function SaidField(props: {
  readonly label: string;
  readonly value: boolean | null;
  readonly help?: string;
  readonly onCommit: (value: boolean | null) => void;
}): ReactNode {
  const { label, value, help, onCommit } = props;
  return (
    <SelectField
      label={label}
      value={value === null ? 'unsaid' : value ? 'yes' : 'no'}
      options={ANSWERS}
      {...(help === undefined ? {} : { help })}
      onCommit={(answer) => onCommit(answer === 'unsaid' ? null : answer === 'yes')}
    />
  );
}

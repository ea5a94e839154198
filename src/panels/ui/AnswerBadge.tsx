import type { ReactNode } from 'react';
import type { Answer } from '../../engine/zones/types.ts';

const WORDS: Readonly<Record<Answer, { readonly sign: string; readonly word: string }>> = {
  inside: { sign: '●', word: 'Inside' },
  outside: { sign: '✕', word: 'Outside' },
  disputed: { sign: '?', word: 'Disputed' },
  'not-checked': { sign: '○', word: 'Not checked' },
};

/** One of the four answers, by sign, word and colour. "Not checked" never looks like a pass. */
export function AnswerBadge(props: { readonly answer: Answer }): ReactNode {
  const { sign, word } = WORDS[props.answer];
  return (
    <span className={`answer ${props.answer}`}>
      <span aria-hidden="true">{sign}</span> {word}
    </span>
  );
}

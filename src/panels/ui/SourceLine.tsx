import type { ReactNode } from 'react';
import { EVIDENCE_WORDS, type Evidence } from '../../engine/model/evidence.ts';

/** Where something comes from and how well that is known. A null rank was counted on the plan and needs none. */
export function SourceLine(props: {
  readonly text: string;
  readonly rank: Evidence | null;
  /** What the rank is said of, where a line has several. */
  readonly children?: ReactNode;
}): ReactNode {
  const { text, rank, children } = props;
  return (
    <p className="source">
      {text}
      {rank !== null && <span className={`rank ${rank}`}> ({EVIDENCE_WORDS[rank]})</span>}
      {children}
    </p>
  );
}

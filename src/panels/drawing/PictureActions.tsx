import { Suspense, useState, type ReactNode } from 'react';
import { findWalls } from '../../app/findWalls.ts';
import { say } from '../../app/program.ts';
import type { StoreyTracing } from '../../engine/model/tracing.ts';
import { useProgram } from '../ui/hooks.ts';
import { lazily } from '../ui/lazily.tsx';

const StraightenDialog = lazily(
  () => import('./StraightenDialog.tsx'),
  (m) => m.StraightenDialog,
);

/** What can be done with a picture: straightened by its corners, and looked through for walls. */
export function PictureActions({ tracing }: { readonly tracing: StoreyTracing }): ReactNode {
  const program = useProgram();
  const [open, setOpen] = useState(false);
  const [looking, setLooking] = useState(false);
  const { source, scale } = tracing;
  if (source.kind !== 'picture') return null;
  const look = (): void => {
    setLooking(true);
    void findWalls(program, tracing).then((problem) => {
      setLooking(false);
      if (problem !== null) say(program, problem, 'bad');
    });
  };
  return (
    <>
      <div className="row">
        <button className="button" type="button" disabled={tracing.locked} onClick={() => setOpen(true)}>
          {source.straighten ? 'Correct its corners…' : 'Straighten a photograph…'}
        </button>
        <button
          className="button"
          type="button"
          disabled={looking || scale.known.length === 0}
          title={scale.known.length === 0 ? 'Mark a known length first' : undefined}
          onClick={look}
        >
          {looking ? 'Looking for walls…' : 'Find walls'}
        </button>
      </div>
      {open && (
        <Suspense fallback={null}>
          <StraightenDialog tracing={tracing} source={source} onClose={() => setOpen(false)} />
        </Suspense>
      )}
    </>
  );
}

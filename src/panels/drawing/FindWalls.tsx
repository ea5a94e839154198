import { useSyncExternalStore, type ReactNode } from 'react';
import { proposeWalls } from '../../app/proposals.ts';
import { say } from '../../app/program.ts';
import type { StoreyTracing } from '../../engine/model/tracing.ts';
import { useProgram } from '../ui/hooks.ts';

/** What walls found from lines cannot know. */
const BLIND =
  'Pairs of parallel lines 60 to 450 mm apart and closed outlines are taken for walls; curved walls are not seen, and a kitchen unit may look like one. Gaps become openings: say which are doors and windows.';

/** Looks for walls in the lines of a drawing, once its scale is known. */
export function FindWalls({ tracing }: { readonly tracing: StoreyTracing }): ReactNode {
  const program = useProgram();
  const { drawings } = program;
  const { source, scale } = tracing;
  const lines = useSyncExternalStore(drawings.subscribe, () =>
    source.kind === 'picture' ? null : drawings.lines(source),
  );
  if (!lines || lines.segments.length === 0) return null;
  const known = scale.known.length > 0;
  const find = async (): Promise<void> => {
    const { wallsOfLines } = await import('../../app/drawings/walls.ts');
    const walls = wallsOfLines(tracing, lines);
    if (typeof walls === 'string') say(program, walls, 'bad');
    else if (walls.length === 0) say(program, 'No walls were found in these lines.');
    else proposeWalls(program, { storey: tracing.lies.storey, from: tracing.name, walls, blind: BLIND });
  };
  return (
    <>
      <button type="button" className="button" disabled={!known} onClick={() => void find()}>
        Find walls
      </button>
      {!known && <p className="help">Walls are looked for once a known length is marked.</p>}
    </>
  );
}

import { Suspense, useRef, type ReactNode } from 'react';
import { rows } from '../../engine/model/tables.ts';
import { liesOnStorey } from '../../engine/model/tracing.ts';
import { First } from '../ui/First.tsx';
import { lazily } from '../ui/lazily.tsx';
import { pick, say } from '../../app/program.ts';
import { useDerived, useDoc, useProgram, useSession } from '../ui/hooks.ts';

const ProposedWalls = lazily(
  () => import('./ProposedWalls.tsx'),
  (m) => m.ProposedWalls,
);
const TracingFields = lazily(
  () => import('./TracingFields.tsx'),
  (m) => m.TracingFields,
);

/** Tracings, and how true to scale they are. */
export function DrawingPanel(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const { takeOff } = useDerived();
  const storey = useSession((state) => state.storey);
  const proposed = useSession((state) => state.proposal?.storey === state.storey);
  const input = useRef<HTMLInputElement>(null);
  const pictures = rows(doc.tracings)
    .filter(liesOnStorey)
    .filter((each) => each.lies.storey === storey);
  const add = (file: File | undefined): void => {
    if (!file) return;
    void program.files.addPicture(file).then((problem) => {
      if (problem !== null) say(program, problem, 'bad');
    });
  };
  return (
    <>
      {doc.tracings.order.length === 0 && doc.walls.order.length === 0 && <First />}
      <div className="row">
        <button type="button" className="button primary" onClick={() => input.current?.click()}>
          Open a drawing…
        </button>
        <button
          className="button"
          type="button"
          onClick={() => program.session.set({ stage: 'fabric', tool: 'wall' })}
        >
          Draw walls
        </button>
      </div>
      <p className="help">
        A picture (PNG, JPEG, WebP), a PDF or a DXF. You can also drop one on the page or paste it.
      </p>
      <input
        ref={input}
        type="file"
        hidden
        aria-label="Open a picture of the plan"
        accept="image/png,image/jpeg,image/webp,application/pdf,.dxf,.dwg"
        onChange={(event) => {
          add(event.target.files?.[0]);
          event.target.value = '';
        }}
      />
      {takeOff.scale.state === 'refused' && <p className="help bad">{takeOff.scale.why}</p>}
      {proposed && (
        <Suspense fallback={null}>
          <ProposedWalls />
        </Suspense>
      )}
      {pictures.map((picture) => (
        <section key={picture.id} className="card" aria-label={`Tracing ${picture.name}`}>
          <h3>
            <button type="button" className="link" onClick={() => pick(program, 'tracings', picture.id)}>
              {picture.name || 'Tracing'}
            </button>
          </h3>
          <Suspense fallback={null}>
            <TracingFields tracing={picture} />
          </Suspense>
        </section>
      ))}
    </>
  );
}

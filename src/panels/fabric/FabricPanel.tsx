import { Suspense, useState, type ReactNode } from 'react';
import { BuildUpEditor } from './BuildUpEditor.tsx';
import { Choice, SelectField } from '../ui/fields.tsx';
import { First } from '../ui/First.tsx';
import { StoreyFields } from '../fabric/StoreyFields.tsx';
import { THINGS, buildUpOptions } from '../ui/options.ts';
import { useDoc, useProgram, useSession } from '../ui/hooks.ts';
import { lazily } from '../ui/lazily.tsx';
import { RoomList } from './RoomList.tsx';
import './fabric.css';

const TapedRoom = lazily(
  () => import('./TapedRoom.tsx'),
  (m) => m.TapedRoom,
);

/** What the building is made of: walls, openings, heights, ceilings, floors and rooms. */
export function FabricPanel(): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const tool = useSession((state) => state.tool);
  const choices = useSession((state) => state.choices);
  const storeyId = useSession((state) => state.storey);
  const [editing, setEditing] = useState(false);
  const [taping, setTaping] = useState(false);
  const storey = doc.storeys.byId[storeyId];
  const buildUp = doc.buildUps.byId[choices.buildUp ?? ''];
  const choose = (patch: Partial<typeof choices>): void =>
    program.session.set({ choices: { ...choices, ...patch } });
  return (
    <>
      {doc.walls.order.length === 0 && <First />}
      {tool === 'opening' && (
        <Choice
          label="Opening"
          value={choices.opening}
          options={[
            { value: 'door', text: 'Door' },
            { value: 'window', text: 'Window' },
            { value: 'opening', text: 'Opening' },
          ]}
          onCommit={(opening) => choose({ opening: opening as typeof choices.opening })}
        />
      )}
      {tool === 'thing' && (
        <SelectField
          label="What is in the way"
          value={choices.thing}
          options={THINGS}
          onCommit={(thing) => choose({ thing })}
        />
      )}
      <SelectField
        label="Walls are built as"
        value={choices.buildUp ?? ''}
        options={buildUpOptions(doc)}
        onCommit={(id) => choose({ buildUp: id })}
      />
      <details open={editing} onToggle={(event) => setEditing(event.currentTarget.open)}>
        <summary>
          <h3>Layers of this build-up</h3>
        </summary>
        {buildUp && editing && (
          <BuildUpEditor key={buildUp.id} buildUp={buildUp} onMade={(id) => choose({ buildUp: id })} />
        )}
      </details>
      <details open={taping} onToggle={(event) => setTaping(event.currentTarget.open)}>
        <summary>
          <h3>Room from tape sizes</h3>
        </summary>
        {taping && (
          <Suspense fallback={null}>
            <TapedRoom />
          </Suspense>
        )}
      </details>
      {storey && <StoreyFields key={storey.id} storey={storey} />}
      <RoomList />
    </>
  );
}

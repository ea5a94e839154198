import type { ReactNode } from 'react';
import { addBuildUp, editBuildUp, removeBuildUp } from '../../document/commands/buildUps.ts';
import type { BuildUp, Layer } from '../../engine/model/document.ts';
import { CheckField, SelectField, TextField } from '../ui/fields.tsx';
import { LengthField, showLength } from '../ui/lengths.tsx';
import { MATERIALS } from '../ui/options.ts';
import { perform } from '../../app/program.ts';
import { useProgram } from '../ui/hooks.ts';
import { usePrefs } from '../ui/usePrefs.ts';

/** The layers of a build-up from its left side to its right, and where cables of each side lie. */
export function BuildUpEditor(props: {
  readonly buildUp: BuildUp;
  readonly onMade: (id: string) => void;
}): ReactNode {
  const program = useProgram();
  const { units } = usePrefs();
  const { buildUp } = props;
  const set = (fields: Parameters<typeof editBuildUp>[1]): string | void => {
    const outcome = perform(program, editBuildUp(buildUp.id, fields));
    if (!outcome.ok) return outcome.reason;
  };
  const { layers, cableLayer } = buildUp;
  const layer = (index: number, fields: Partial<Layer>): string | void =>
    set({ layers: layers.map((each, at) => (at === index ? { ...each, ...fields } : each)) });
  const moved = (index: number, was: number): number => Math.max(0, index - (was <= index ? 1 : 0));
  const remove = (index: number): string | void =>
    set({
      layers: layers.toSpliced(index, 1),
      cableLayer: { left: moved(cableLayer.left, index), right: moved(cableLayer.right, index) },
    });
  const thickness = layers.reduce((sum, each) => sum + each.thickness, 0);
  const choices = layers.map((each, index) => ({
    value: String(index),
    text: `${index + 1}. ${MATERIALS.find((m) => m.value === each.material)?.text ?? each.material}`,
  }));
  return (
    <div className="buildup">
      <TextField label="Name" needed value={buildUp.name} onCommit={(name) => set({ name })} />
      <SelectField
        label="Frame"
        value={buildUp.frame}
        options={[
          { value: 'timber', text: 'Timber' },
          { value: 'metal', text: 'Metal' },
          { value: 'masonry', text: 'Masonry' },
        ]}
        onCommit={(frame) => void set({ frame })}
      />
      <ol className="layers" aria-label="Layers from the left side to the right">
        {layers.map((each, index) => (
          <li key={index}>
            <SelectField
              label={`Layer ${index + 1}`}
              hideLabel
              value={each.material}
              options={MATERIALS}
              onCommit={(material) => void layer(index, { material })}
            />
            <LengthField
              label={`Thickness of layer ${index + 1}`}
              hideLabel
              value={each.thickness}
              min={0.1}
              max={2000}
              onCommit={(value) => layer(index, { thickness: value })}
            />
            <CheckField
              label="Insulated"
              value={each.insulated}
              onCommit={(insulated) => void layer(index, { insulated })}
            />
            <button
              type="button"
              className="button plain"
              disabled={layers.length === 1}
              aria-label={`Take layer ${index + 1} out`}
              onClick={() => void remove(index)}
            >
              ✕
            </button>
          </li>
        ))}
      </ol>
      <p className="answers">Altogether {showLength(thickness, units)}</p>
      <button
        className="button"
        type="button"
        onClick={() =>
          void set({ layers: [...layers, { material: 'plasterboard', thickness: 12.5, insulated: false }] })
        }
      >
        Add a layer on the right
      </button>
      <div className="pair">
        <SelectField
          label="Cables of the left side in"
          value={String(cableLayer.left)}
          options={choices}
          onCommit={(at) => void set({ cableLayer: { ...cableLayer, left: Number(at) } })}
        />
        <SelectField
          label="Of the right side in"
          value={String(cableLayer.right)}
          options={choices}
          onCommit={(at) => void set({ cableLayer: { ...cableLayer, right: Number(at) } })}
        />
      </div>
      <div className="row">
        <button
          className="button"
          type="button"
          onClick={() => {
            const { id: _id, ...rest } = buildUp;
            const outcome = perform(program, addBuildUp({ ...rest, name: `${buildUp.name} (copy)` }));
            if (outcome.ok && outcome.made[0]) props.onMade(outcome.made[0]);
          }}
        >
          Copy as a new build-up
        </button>
        <button className="button" type="button" onClick={() => perform(program, removeBuildUp(buildUp.id))}>
          Remove
        </button>
      </div>
    </div>
  );
}

import type { ReactNode } from 'react';

/** Layers to show, ticked; `chosen` null stands for those the file itself shows. */
export function LayerList(props: {
  readonly layers: readonly { readonly name: string; readonly shown: boolean; readonly note: string }[];
  readonly chosen: readonly string[] | null;
  readonly onChoose: (names: readonly string[]) => void;
}): ReactNode {
  const chosen = props.chosen ?? props.layers.filter((l) => l.shown).map((l) => l.name);
  const toggle = (name: string): void =>
    props.onChoose(chosen.includes(name) ? chosen.filter((n) => n !== name) : [...chosen, name]);
  return (
    <fieldset>
      <legend>Layers shown</legend>
      <ul className="layers">
        {props.layers.map(({ name, note }) => (
          <li key={name}>
            <label>
              <input type="checkbox" checked={chosen.includes(name)} onChange={() => toggle(name)} /> {name}
              {note !== '' && <small> {note}</small>}
            </label>
          </li>
        ))}
      </ul>
    </fieldset>
  );
}

import type { ReactNode } from 'react';
import type { Mm } from '../../engine/model/units.ts';
import { parseLength } from '../../tools/lengthText.ts';
import { Entry } from './fields.tsx';
import type { Prefs } from '../../app/prefs.ts';
import { usePrefs } from './usePrefs.ts';

/**
 * A length as the person chose to read lengths: whole or half millimetres, metres to the millimetre, or feet and inches to a
 * sixteenth (shown only; nothing is rounded in the plan).
 */
export function showLength(mm: Mm, units: Prefs['units']): string {
  if (units === 'm') return `${(mm / 1000).toFixed(3)} m`;
  if (units === 'ft') return feetAndInches(mm);
  const rounded = Math.round(mm * 10) / 10;
  return `${String(Object.is(rounded, -0) ? 0 : rounded)} mm`;
}

/** The same without its unit, for a field that shows the unit beside it. */
export function bareLength(mm: Mm, units: Prefs['units']): string {
  return units === 'ft' ? feetAndInches(mm) : showLength(mm, units).replace(/ .*$/, '');
}

/** 2438.4 → 8′ 0″; sixteenths reduced. Source of 25.4 mm to the inch: BS 350. */
export function feetAndInches(mm: Mm): string {
  const sixteenths = Math.round((Math.abs(mm) / 25.4) * 16);
  const feet = Math.floor(sixteenths / 192);
  const inches = Math.floor((sixteenths % 192) / 16);
  let part = sixteenths % 16;
  let of = 16;
  while (part > 0 && part % 2 === 0) {
    part /= 2;
    of /= 2;
  }
  const text = `${inches}${part > 0 ? ` ${part}/${of}` : ''}″`;
  return `${mm < 0 && sixteenths > 0 ? '−' : ''}${feet > 0 ? `${feet}′ ` : ''}${text}`;
}

/** Metres to a centimetre, for totals: 12.34 m. */
export const metres = (mm: Mm): string => `${(mm / 1000).toFixed(2)} m`;

/** A length entry: reads mm, m and feet-inches whatever it shows; bounds in mm. */
export function LengthField<T extends Mm | null>(props: {
  readonly label: string;
  readonly value: T;
  readonly onCommit: (value: T) => string | void;
  readonly min?: Mm;
  readonly max?: Mm;
  /** Shown while empty; its presence allows empty. */
  readonly empty?: T extends null ? string : never;
  readonly help?: string;
  readonly disabled?: boolean;
  readonly hideLabel?: boolean;
}): ReactNode {
  const { units } = usePrefs();
  const { min = 0, max = 1e6 } = props;
  return (
    <Entry<T>
      label={props.label}
      value={props.value}
      disabled={props.disabled}
      hideLabel={props.hideLabel}
      unit={units === 'ft' ? '' : units}
      inputMode="text"
      help={props.help ?? (props.value === null ? props.empty : undefined)}
      show={(value) => (value === null ? '' : bareLength(value, units))}
      onCommit={props.onCommit}
      read={(text) => {
        if (text.trim() === '' && props.empty !== undefined) return { ok: true, value: null as T };
        const bare = text.trim();
        // A bare number is read in the unit the field shows.
        const parsed = parseLength(units === 'm' && /^[-+]?[\d.,]+$/.test(bare) ? `${bare} m` : bare);
        if (!parsed.ok) return parsed;
        if (parsed.mm < min || parsed.mm > max)
          return { ok: false, reason: `From ${showLength(min, units)} to ${showLength(max, units)}.` };
        return { ok: true, value: parsed.mm as T };
      }}
    />
  );
}

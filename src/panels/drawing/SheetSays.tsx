import { useSyncExternalStore, type ReactNode } from 'react';
import { mmPerPoint, scaleVerdict } from '../../engine/takeoff/sheetScale.ts';
import type { PageSource } from '../../tools/drawings.ts';
import { useProgram } from '../ui/hooks.ts';
import { PasswordForm } from './PasswordForm.tsx';

/** What a page says of its own scale, and what the known lengths make of it; its password, where it asks for one. */
export function SheetSays(props: {
  readonly source: PageSource;
  /** mm of a point by the known lengths; null while there are none. */
  readonly measured: number | null;
}): ReactNode {
  const { drawings } = useProgram();
  const { source, measured } = props;
  const now = drawings.now();
  const locked = useSyncExternalStore(drawings.subscribe, () => now?.locked(source.asset) ?? false);
  const facts = useSyncExternalStore(drawings.subscribe, () => drawings.now()?.facts(source) ?? null);
  if (locked) {
    const unlock = (password: string) => drawings.now()?.unlock(source.asset, password);
    return <PasswordForm onGiven={async (password) => (await unlock(password)) ?? false} />;
  }
  const said = facts?.scales[0];
  if (!facts || !said) return null;
  const verdict = measured === null ? null : scaleVerdict(mmPerPoint(said.ratio), measured);
  const sheet = facts.sheet === null ? '' : ` The page is of ${facts.sheet} size.`;
  return (
    <>
      <p className="help">
        The page says {said.text}.{sheet}
      </p>
      {verdict && <p className={verdict.kind === 'agrees' ? 'help' : 'help warn'}>{verdict.words}</p>}
    </>
  );
}

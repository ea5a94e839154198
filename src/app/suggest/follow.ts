import type { Id } from '../../engine/model/document.ts';
import type { Mm } from '../../engine/model/units.ts';
import { runsToFollow, type Followed } from '../../engine/routing/follow.ts';
import type { App } from '../../tools/app.ts';
import type { Suggester } from '../../workers/suggestClient.ts';

/**
 * Lets suggested runs follow a change of what they depend on: their ways are looked for again in the worker and become
 * part of the change, so that one undo takes both back. The next change cancels what is under way and takes over its
 * runs; an undo or redo gives them up.
 */
export function followChanges(
  app: Pick<App, 'store' | 'derived'>,
  suggester: Suggester,
  say: (text: string, tone: 'plain' | 'bad') => void,
): () => void {
  const { store, derived } = app;
  let before = store.getState().doc;
  const behind = new Map<Id, Mm | null>();

  const follow = (rev: number): void => {
    const { doc } = store.getState();
    const runs = [...behind.keys()].filter((id) => doc.runs.byId[id] !== undefined);
    const was = Object.fromEntries([...behind].flatMap(([id, mm]) => (mm === null ? [] : [[id, mm]])));
    const asked = suggester.ask<'follow'>(doc, { kind: 'follow', runs, was });
    Promise.all([asked, import('../../document/commands/suggestions.ts')]).then(
      ([found, { followSuggestion }]) => {
        if (found === null || store.getState().rev !== rev) return;
        behind.clear();
        if (found.runs.length > 0 && !store.amend(followSuggestion(found), rev).ok) return;
        const text = followText(found, (id) => doc.runs.byId[id]?.label ?? id, Object.keys(was).length > 0);
        if (text !== null) say(text, found.blocked.length > 0 ? 'bad' : 'plain');
      },
      (error: unknown) => say(`Suggested runs did not follow: ${String(error)}`, 'bad'),
    );
  };

  return store.subscribe((state, touched, _change, cause) => {
    const last = before;
    before = state.doc;
    if (cause === 'amend') return;
    suggester.cancel();
    if (touched === 'all' || cause === 'undo' || cause === 'redo' || cause === 'replace') {
      behind.clear();
      return;
    }
    const lengths = derived.get().derived.takeOff.runs;
    for (const id of runsToFollow(last, state.doc, touched)) {
      const length = lengths.get(id);
      if (behind.has(id)) continue;
      behind.set(id, length ? length.runMm + length.riseDropMm + length.throughMm : null);
    }
    if (behind.size > 0) follow(state.rev);
  });
}

/** "R3 and R4 re-routed: 1.24 m less." Null where nothing changed and nothing is in the way. */
export function followText(found: Followed, label: (id: Id) => string, measured: boolean): string | null {
  const parts: string[] = [];
  if (found.affected.length > 0) {
    const names = found.affected.map(label);
    const some = names.length > 4 ? [...names.slice(0, 3), `${names.length - 3} more`] : names;
    const listed = some.length === 1 ? some[0] : `${some.slice(0, -1).join(', ')} and ${some.at(-1)}`;
    const by = Math.abs(found.change) / 1000;
    const metres =
      by < 0.005 ? 'no longer and no shorter' : `${by.toFixed(2)} m ${found.change < 0 ? 'less' : 'more'}`;
    const what = found.runs.length > 0 ? 're-routed' : 'followed';
    parts.push(measured ? `${listed} ${what}: ${metres}.` : `${listed} ${what}.`);
  }
  if (found.blocked.length > 0)
    parts.push(`No legal way any more for ${found.blocked.map((b) => b.replace(/\.$/, '')).join('; ')}.`);
  return parts.length === 0 ? null : parts.join(' ');
}

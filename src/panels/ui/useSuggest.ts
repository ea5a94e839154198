import { useSyncExternalStore } from 'react';
import { useProgram } from './hooks.ts';
import type { SuggestState } from '../../app/suggest/suggestions.ts';

/** A value of what the suggester was asked and found: the same reference while nothing it reads has changed. */
export function useSuggest<T>(select: (state: SuggestState) => T): T {
  const { suggestions } = useProgram();
  return useSyncExternalStore(suggestions.subscribe, () => select(suggestions.get()));
}

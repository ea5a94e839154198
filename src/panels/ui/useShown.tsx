import { useState, type ReactNode } from 'react';

/**
 * The first rows of a long list, and a button for more: a large plan has thousands, and a page that makes them all at
 * once answers slowly.
 */
export function useShown<T>(
  items: readonly T[],
  atFirst: number,
): { readonly shown: readonly T[]; readonly more: ReactNode } {
  const [most, setMost] = useState(atFirst);
  if (items.length <= most) return { shown: items, more: null };
  return {
    shown: items.slice(0, most),
    more: (
      <button type="button" className="link" onClick={() => setMost(most * 4)}>
        Show more: {items.length - most} not shown
      </button>
    ),
  };
}

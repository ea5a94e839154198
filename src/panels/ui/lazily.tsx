import { lazy, type ComponentType, type LazyExoticComponent } from 'react';

/** A component that is fetched when it is first drawn: `lazily(() => import('./Big.tsx'), (m) => m.Big)`. */
export function lazily<M, P>(
  fetch: () => Promise<M>,
  component: (module: M) => ComponentType<P>,
): LazyExoticComponent<ComponentType<P>> {
  return lazy(async () => ({ default: component(await fetch()) }));
}

import { parseString, toPolylines } from 'dxf';
import type { Group } from './groups.ts';

/** A curved entity by its type and the groups that shape it, numbers only: nothing of the file's names is in it. */
export interface Curve {
  readonly type: 'ARC' | 'CIRCLE' | 'ELLIPSE' | 'SPLINE' | 'LWPOLYLINE';
  readonly groups: readonly Group[];
}

/**
 * Vertices (x, y, x, y, ...; y up) of each curve, drawn as short straight pieces of 5° by the registry's reader; null for
 * one that it cannot draw, such as a spline whose knots do not fit.
 */
export function drawnCurves(curves: readonly Curve[]): (Float64Array | null)[] {
  const lines = ['0', 'SECTION', '2', 'ENTITIES'];
  for (const c of curves) {
    lines.push('0', c.type);
    for (const g of c.groups) lines.push(String(g.code), g.value);
  }
  lines.push('0', 'ENDSEC', '0', 'EOF');
  const { entities } = parseString(lines.join('\n'));
  return curves.map((_, i) => {
    const entity = entities[i];
    return entity === undefined ? null : drawnEntity(entity);
  });
}

function drawnEntity(entity: object): Float64Array | null {
  try {
    const { polylines } = toPolylines({ entities: [entity], blocks: [], tables: { layers: {} } });
    const flat = (polylines[0]?.vertices ?? []).flatMap(([x, y]) => [x as number, y as number]);
    return flat.length >= 4 && flat.every(Number.isFinite) ? Float64Array.from(flat) : null;
  } catch {
    // The package throws on knots and degrees that make no spline; the caller counts it as left out.
    return null;
  }
}

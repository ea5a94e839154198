import type { ReactNode } from 'react';
import type { PointKind } from '../../engine/model/document.ts';
import { symbolFor } from '../../view/shared/symbols.ts';

/** The plan symbol of a kind of point, as in the legend. */
export function PointSymbol(props: { readonly kind: PointKind; readonly gangs?: 1 | 2 }): ReactNode {
  const symbol = symbolFor({ kind: props.kind, gangs: props.gangs ?? 1 });
  return (
    <svg className="symbol" viewBox={symbol.viewBox} width="30" height="30" aria-hidden="true">
      {symbol.strokes.map((path) => (
        <path key={path} d={path} fill="none" stroke="currentColor" strokeWidth="1.5" />
      ))}
      {symbol.fills.map((path) => (
        <path key={path} d={path} fill="currentColor" />
      ))}
      {symbol.letters.map((letter) => (
        <text
          key={`${letter.text}${letter.x}`}
          x={letter.x}
          y={letter.y}
          fontSize="7"
          textAnchor="middle"
          dominantBaseline="middle"
          fill="currentColor"
        >
          {letter.text}
        </text>
      ))}
    </svg>
  );
}

import type { ReactNode } from 'react';
import { sayToldFromBehind } from '../../document/commands/walls.ts';
import { piecesOn } from '../../engine/fabric/lookup.ts';
import { roomTitle } from '../../engine/words/walls.ts';
import { wallFrame } from '../../engine/fabric/wallFrame.ts';
import type { Side, Wall } from '../../engine/model/document.ts';
import { EDITIONS } from '../../engine/zones/editions.ts';
import { perform } from '../../app/program.ts';
import { useDerived, useDoc, useProgram } from '../ui/hooks.ts';
import { SaidField } from '../ui/SaidField.tsx';

/** For thin walls: whether the points of each side can be told from the other. Thick walls have nothing to answer. */
export function ToldFields(props: { readonly walls: readonly Wall[] }): ReactNode {
  const program = useProgram();
  const doc = useDoc();
  const derived = useDerived();
  const { reverseWall } = EDITIONS[doc.job.edition];
  const walls = props.walls.filter((wall) => (wallFrame(doc, wall)?.thickness ?? Infinity) <= reverseWall);
  const first = walls[0];
  if (!first || walls.length < props.walls.length) return null;
  const nameOf = (side: Side): string => {
    const fabric = derived.fabrics.get(first.storey);
    const pieces = fabric && walls.length === 1 ? piecesOn(fabric, first.id, side) : [];
    const names = [...new Set(pieces.map(({ face }) => fabric && roomTitle(fabric, face)))];
    return names.length > 0 ? names.join(' and ') : `the ${side} as drawn`;
  };
  return (['left', 'right'] as const).map((side) => {
    const same = walls.every((wall) => wall.toldFromBehind[side] === first.toldFromBehind[side]);
    return (
      <SaidField
        key={side}
        label={`Points on the side of ${nameOf(side)} can be told from the other side`}
        value={same ? first.toldFromBehind[side] : null}
        help={`A wall of ${reverseWall} mm or less: only then do their zones count behind it as well.`}
        onCommit={(said) =>
          void perform(
            program,
            sayToldFromBehind(
              walls.map((wall) => wall.id),
              side,
              said,
            ),
          )
        }
      />
    );
  });
}

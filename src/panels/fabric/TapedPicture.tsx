import type { ReactNode } from 'react';
import { boxOf } from '../../tools/boxIndex.ts';
import type { PlanPoint } from '../../engine/model/units.ts';

/** The room as typed, dashed and with its gap, and as it closes. */
export function TapedPicture(props: {
  readonly walked: readonly PlanPoint[] | null;
  readonly closed: readonly PlanPoint[] | null;
}): ReactNode {
  const { walked, closed } = props;
  const box = walked && boxOf([...walked, ...(closed ?? [])]);
  if (!box) return null;
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  const edge = 0.08 * Math.max(width, height, 1);
  const text = (points: readonly PlanPoint[]): string => points.map((p) => `${p.x},${p.y}`).join(' ');
  return (
    <svg
      className="taped-picture"
      viewBox={`${box.minX - edge} ${box.minY - edge} ${width + 2 * edge} ${height + 2 * edge}`}
      role="img"
      aria-label={closed ? 'The room with its error spread' : 'The room as typed'}
    >
      {closed && <polygon points={text(closed)} />}
      <polyline points={text(walked)} />
    </svg>
  );
}

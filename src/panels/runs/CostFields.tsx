import type { ReactNode } from 'react';
import { editJob } from '../../document/commands/job.ts';
import type { RouteCosts } from '../../engine/model/document.ts';
import { NumberField } from '../ui/fields.tsx';
import { perform } from '../../app/program.ts';
import { useDoc, useProgram } from '../ui/hooks.ts';

const LABELS: readonly (readonly [keyof RouteCosts, string])[] = [
  ['metre', 'A metre of cable'],
  ['bend', 'A bend'],
  ['drop', 'A drop between a wall and a void'],
  ['timberHole', 'A hole through a joist, stud or plate'],
  ['chaseMetre', 'A metre of chase in masonry'],
  ['throughWall', 'A hole from room to room'],
  ['insulationMetre', 'A metre in insulation'],
];

/** What a way is weighed by. Points, not money: only how they compare matters. */
export function CostFields(): ReactNode {
  const program = useProgram();
  const { routeCosts } = useDoc().job;
  return (
    <div className="fields costs">
      <p className="help">
        Points, not money: only how they compare matters. What they start at is our own reckoning, so change
        them to how you work.
      </p>
      {LABELS.map(([key, label]) => (
        <NumberField
          key={key}
          label={label}
          value={routeCosts[key]}
          min={0}
          max={1000}
          onCommit={(value) => {
            const outcome = perform(program, editJob({ routeCosts: { ...routeCosts, [key]: value } }));
            if (!outcome.ok) return outcome.reason;
          }}
        />
      ))}
    </div>
  );
}

import type { ReactNode } from 'react';
import { useProgram, useSession } from '../ui/hooks.ts';
import type { StageInfo } from '../../app/stageInfo.ts';

/** The tools of a stage, one in hand. */
export function ToolPicker(props: { readonly tools: StageInfo['tools'] }): ReactNode {
  const program = useProgram();
  const tool = useSession((state) => state.tool);
  return (
    <div className="toolbox" role="group" aria-label="Tools">
      {props.tools.map((each) => (
        <button
          className="button tool-button"
          key={each.tool}
          type="button"
          aria-pressed={tool === each.tool}
          title={each.does}
          onClick={() => program.session.set({ tool: each.tool })}
        >
          {each.name}
        </button>
      ))}
    </div>
  );
}

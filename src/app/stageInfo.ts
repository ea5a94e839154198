import type { Stage } from '../engine/checks/types.ts';
import type { ToolId } from '../tools/types.ts';

export interface StageInfo {
  readonly stage: Stage;
  readonly name: string;
  /** What to do next when there is nothing of this stage yet. */
  readonly first: string;
  readonly tools: readonly { readonly tool: ToolId; readonly name: string; readonly does: string }[];
}

const select = { tool: 'select', name: 'Select', does: 'Pick, move and edit what is drawn' } as const;
const measure = { tool: 'measure', name: 'Measure', does: 'Read a length off the plan' } as const;

/** The seven stages of the job, in order, each with its own tools. */
export const STAGES: readonly StageInfo[] = [
  {
    stage: 'drawing',
    name: 'Drawing',
    first: 'Open a picture of your plan, or start drawing walls with typed lengths.',
    tools: [
      select,
      { tool: 'picture-move', name: 'Move tracing', does: 'Drag the tracing to where it belongs' },
      {
        tool: 'picture-straighten',
        name: 'Straighten',
        does: 'Draw along a line that should be level or plumb',
      },
      { tool: 'picture-scale', name: 'Known length', does: 'Draw along a length you know and type it' },
      measure,
    ],
  },
  {
    stage: 'fabric',
    name: 'Fabric',
    first:
      'Choose what the wall is made of, then click along the middle of the walls, corner to corner. Rooms appear when walls close.',
    tools: [
      select,
      { tool: 'wall', name: 'Wall', does: 'Click corner to corner; type a length at any time' },
      { tool: 'opening', name: 'Door or window', does: 'Click a wall where the opening stands' },
      { tool: 'room-name', name: 'Name a room', does: 'Click in a room and name it' },
      { tool: 'thing', name: 'Thing in the way', does: 'Mark a unit, bath, pipe or no-cable place' },
      measure,
    ],
  },
  {
    stage: 'points',
    name: 'Points',
    first: 'Pick a kind of point and click a wall or ceiling. Begin with the consumer unit.',
    tools: [
      select,
      { tool: 'point', name: 'Place a point', does: 'Click a wall, ceiling or floor' },
      measure,
    ],
  },
  {
    stage: 'circuits',
    name: 'Circuits',
    first: 'Add a circuit, then click or paint over the points it feeds.',
    tools: [
      select,
      {
        tool: 'assign',
        name: 'Assign points',
        does: 'Click or paint over points to put them on the circuit',
      },
    ],
  },
  {
    stage: 'runs',
    name: 'Runs',
    first: 'Start at one point, lead the cable over or under and along the walls, and end at another.',
    tools: [
      select,
      { tool: 'run', name: 'Draw a run', does: 'Point to point; each leg level or plumb' },
      { tool: 'thing', name: 'No-cable place', does: 'Mark a place no cable may pass' },
      measure,
    ],
  },
  {
    stage: 'take-off',
    name: 'Take-off',
    first: 'Metres appear here as soon as the first run joins two points.',
    tools: [select, measure],
  },
  {
    stage: 'site',
    name: 'Site',
    first: 'With runs drawn, this lists what to cut, mark out, tick off and check before a wall is covered.',
    tools: [select, measure],
  },
];

export const STAGE_NAMES: Readonly<Record<Stage, string>> = Object.fromEntries(
  STAGES.map((info) => [info.stage, info.name]),
) as Record<Stage, string>;

export const stageInfo = (stage: Stage): StageInfo => {
  const info = STAGES.find((each) => each.stage === stage);
  if (!info) throw new Error(`no such stage: ${stage}`);
  return info;
};

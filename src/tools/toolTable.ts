import type { AnyTool, LaterTools, ToolTable } from './runner.ts';
import { restTool } from './select/restTool.ts';

/** In hand from the start: what shows what is under the pointer. */
export const TOOLS: ToolTable = { select: restTool };

/** The others, fetched once the page stands or when they are first used, so that it opens sooner. */
export const LATER: LaterTools = {
  select: () => import('./select/selectTool.ts').then((m): AnyTool => m.selectTool),
  wall: () => import('./wall/wallTool.ts').then((m): AnyTool => m.wallTool),
  measure: () => import('./measure/measureTool.ts').then((m): AnyTool => m.measureTool),
  'picture-move': () => import('./picture/moveTool.ts').then((m): AnyTool => m.pictureMoveTool),
  'picture-straighten': () => import('./picture/lineTool.ts').then((m): AnyTool => m.pictureStraightenTool),
  'picture-scale': () => import('./picture/lineTool.ts').then((m): AnyTool => m.pictureScaleTool),
  'proposed-walls': () => import('./proposedWalls.ts').then((m): AnyTool => m.proposedWallsTool),
  opening: () => import('./opening/openingTool.ts').then((m): AnyTool => m.openingTool),
  'room-name': () => import('./room/roomTool.ts').then((m): AnyTool => m.roomTool),
  thing: () => import('./thing/thingTool.ts').then((m): AnyTool => m.thingTool),
  point: () => import('./point/pointTool.ts').then((m): AnyTool => m.pointTool),
  assign: () => import('./assign.ts').then((m): AnyTool => m.assignTool),
  run: () => import('./run/runTool.ts').then((m): AnyTool => m.runTool),
};

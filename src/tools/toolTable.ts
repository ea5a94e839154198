import type { AnyTool, LaterTools, ToolTable } from './runner.ts';
import { selectTool } from './select/selectTool.ts';
import { wallTool } from './wall/wallTool.ts';

/** In hand from the start: what the first minute needs. */
export const TOOLS: ToolTable = { select: selectTool, wall: wallTool };

/** The others, fetched when first taken up, so that the page opens sooner. */
export const LATER: LaterTools = {
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

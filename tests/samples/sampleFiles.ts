import type { PlanDocument } from '../../src/engine/model/document.ts';
import { makeDrawingMistakes } from './drawingMistakes.ts';
import { makeElectricalMistakes } from './electricalMistakes.ts';
import { makeMistakes } from './mistakes.ts';
import { makeStudio } from './studio.ts';
import { makeTwoStoreys } from './twoStoreys.ts';

/** The sample plans, by the name of their file in sample-plans/. */
export function sampleFiles(): ReadonlyMap<string, PlanDocument> {
  return new Map([
    ['pottery-studio.json', makeStudio().doc],
    ['pottery-studio-mistakes.json', makeMistakes().doc],
    ['pottery-studio-drawing-mistakes.json', makeDrawingMistakes().doc],
    ['pottery-studio-circuit-mistakes.json', makeElectricalMistakes().doc],
    ['two-storeys.json', makeTwoStoreys()],
  ]);
}

import { describe, expect, test } from 'vitest';
import { newDocument } from '../../src/engine/model/defaults.ts';
import { readLook, readMarks, readSession, sessionToKeep } from '../../src/app/keptSession.ts';
import { startSession } from '../../src/tools/session.ts';

const doc = newDocument('t');
const start = startSession(doc);

describe('a session kept on the device', () => {
  test('comes back through JSON as it was, with the select tool', () => {
    const state = {
      ...start,
      stage: 'site' as const,
      tool: 'wall' as const,
      room: 'w1.left.0',
      selection: [{ table: 'storeys' as const, id: 's1', part: null }],
      showZones: false,
    };
    const look = { x: 4500, y: -20.5, scale: 0.09 };
    const kept: unknown = JSON.parse(
      JSON.stringify(sessionToKeep(state, { inFile: 3, sample: null }, look, 'plan-1')),
    );
    expect(readSession(kept, doc, start)).toEqual({ ...state, tool: 'select' });
    expect(readMarks(kept)).toEqual({ inFile: 3, sample: null });
    expect(readLook(kept)).toEqual(look);
  });

  test.each([
    null,
    7,
    'text',
    [],
    {
      stage: 'paint',
      storey: 's9',
      look: { x: 1, y: 2, scale: 0 },
      selection: [{ table: '__proto__', id: 's1' }, 4],
    },
  ])('odd data %j leaves the start', (odd) => {
    expect(readSession(odd, doc, start)).toEqual(start);
    expect(readMarks(odd)).toEqual({ inFile: null, sample: null });
  });

  test('records that are gone are not selected, and choices that are gone fall back', () => {
    const kept = {
      selection: [{ table: 'points', id: 'p9', part: null }],
      choices: { buildUp: 'no-such', circuit: 'c9', cable: 'te2-5', void: 'floor', gangs: 1 },
    };
    const read = readSession(kept, doc, start);
    expect(read.selection).toEqual([]);
    expect(read.choices).toMatchObject({
      buildUp: start.choices.buildUp,
      cable: 'te2-5',
      void: 'floor',
      gangs: 1,
    });
  });
});

import { tableFrom } from '../../src/engine/model/defaults.ts';
import type { Storey } from '../../src/engine/model/document.ts';
import { rows } from '../../src/engine/model/tables.ts';
import type { KnownLength, Tracing } from '../../src/engine/model/tracing.ts';
import { INVENTED, numbered, type Mistake, type Mistaken } from './mistakes.ts';
import { makeStudio } from './studio.ts';

const drawing = (n: number, name: string, known: readonly KnownLength[]): Tracing => ({
  id: `u${n}`,
  name,
  lies: { on: 'storey', storey: 's1', x: -1620, y: -1440, rotation: 0 },
  source: {
    kind: 'picture',
    mediaType: 'image/png',
    asset: '0'.repeat(64),
    width: 2000,
    height: 1300,
    straighten: null,
  },
  scale: { mmPerUnit: 6, known, stated: null },
  date: null,
  revision: '',
  opacity: 0.5,
  locked: true,
  visible: false,
});

/**
 * The studio over drawings with mistakes of scale. A file of its own: while one drawing of a storey has no scale, all
 * metres of the plan are refused, and the other mistakes file is to have metres.
 */
export function makeDrawingMistakes(): Mistaken {
  const { doc: studio } = makeStudio();
  const storeys = rows(studio.storeys).map(({ ceiling, ...rest }): Storey => {
    const joists = ceiling.joists && ({ ...ceiling.joists, member: 'engineered' } as const);
    return { ...rest, ceiling: { ...ceiling, joists } };
  });
  const doc = { ...studio, storeys: tableFrom(storeys) };
  const across = { ax: 270, ay: 1261, bx: 270 + 8600 / 6, by: 1261, length: 8600 };
  const down = { ax: 120, ay: 240, bx: 120, by: 240 + 4700 / 6, length: 4800 };
  const mistakes: readonly Mistake[] = [
    {
      rule: 'guidance-not-held',
      on: null,
      what: 'the job is in Scotland, whose guidance on alarms is not held',
    },
    {
      rule: 'joist-chart',
      on: null,
      what: 'the joists are engineered, and runs cross them with no word of the maker’s chart',
    },
    { rule: 'scale-none', tracing: 'u1', on: null, what: 'the sketch has no known length' },
    { rule: 'scale-one', tracing: 'u2', on: null, what: 'the scan has one known length' },
    {
      rule: 'scale-residual',
      tracing: 'u3',
      on: null,
      what: 'the two lengths of the print disagree by 2.1 %: 4700 was typed as 4800',
    },
  ];
  const notes = [
    INVENTED,
    'Three drawings, none of them stored with the file, each with one mistake of scale, a job in another nation and engineered joists:',
    numbered(mistakes),
  ].join('\n');
  return {
    doc: {
      ...doc,
      job: {
        ...doc.job,
        nation: 'scotland',
        title: 'Pottery studio with mistakes of scale (invented)',
        notes,
      },
      tracings: tableFrom([
        drawing(1, 'Sketch', []),
        drawing(2, 'Scan', [across]),
        drawing(3, 'Print', [across, down]),
      ]),
      counters: { ...doc.counters, u: 3 },
    },
    mistakes,
  };
}

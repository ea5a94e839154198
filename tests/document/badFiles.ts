import { canonicalJson } from '../../src/document/codec/write.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';

// eslint-disable-next-line @typescript-eslint/no-explicit-any -- files are made wrong on purpose, of any shape
type Loose = Record<string, any>;

export interface BadFile {
  readonly name: string;
  readonly file: string | Uint8Array;
  readonly path: string;
  readonly message: RegExp;
  readonly line?: number;
  /** What a schema cannot say: references between records, the calendar, keys given twice, the text itself. */
  readonly beyondSchema?: true;
}

/** A good document with one thing made wrong. */
function edited(doc: PlanDocument, edit: (file: Loose) => void): string {
  const file = structuredClone(doc) as Loose;
  edit(file);
  return JSON.stringify(file, null, 2);
}

/** Bad files, each with the place and the words its error must have. */
export function badFiles(doc: PlanDocument): BadFile[] {
  const good = canonicalJson(doc);
  const lines = good.split('\n');
  const bad = (
    name: string,
    path: string,
    message: RegExp,
    edit: (file: Loose) => void,
    beyondSchema?: true,
  ): BadFile => ({ name, file: edited(doc, edit), path, message, ...(beyondSchema ? { beyondSchema } : {}) });
  const broken = (
    name: string,
    file: string | Uint8Array,
    path: string,
    message: RegExp,
    line?: number,
  ): BadFile => ({
    name,
    file,
    path,
    message,
    beyondSchema: true,
    ...(line === undefined ? {} : { line }),
  });
  const utf16 = new Uint8Array(
    new Uint16Array([0xfeff, ...[...'{"a":1}'].map((c) => c.charCodeAt(0))]).buffer,
  );
  return [
    broken('empty', '', '', /file is empty/, 1),
    broken('only a byte order mark', '\uFEFF', '', /file is empty/, 1),
    broken('cut off', lines.slice(0, 40).join('\n'), 'boxes.metal-1g-16.mount', /ends too early/, 40),
    broken('not JSON', 'Dear Sir,\nplease find attached', '', /this is not JSON/, 1),
    broken('NULs at the end', `${good}\0\0\0`, '', /more text after the end/, lines.length),
    broken(
      'a picture instead',
      new Uint8Array([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10]),
      '',
      /not text in UTF-8/,
    ),
    broken('UTF-16', utf16, '', /not text in UTF-8/),
    broken('comma missing', good.replace('"ambient": 30,', '"ambient": 30'), 'job.ambient', /a comma or }/),
    broken('comma too many', '{"format": "zonewright-plan",\n}', 'format', /a key is expected/, 2),
    broken('NaN as text', good.replace('"ambient": 30', '"ambient": NaN'), 'job.ambient', /not JSON/),
    broken(
      'Infinity as text',
      good.replace('"ambient": 30', '"ambient": -Infinity'),
      'job.ambient',
      /not JSON/,
    ),
    broken(
      'hexadecimal number',
      good.replace('"ambient": 30', '"ambient": 0x1E'),
      'job.ambient',
      /a comma or }/,
    ),
    broken(
      'raw newline in a text',
      good.replace('Test room', 'Test\nroom'),
      'job.title',
      /forbidden character/,
    ),
    broken('nested 1,000,000 deep', '['.repeat(1_000_000), '[0]'.repeat(64), /deeper than 64/, 1),
    broken(
      'a key given twice',
      good.replace('"ambient": 30', '"ambient": 30,\n    "ambient": 31'),
      'job.ambient',
      /twice/,
    ),
    broken(
      'a record given twice',
      good.replace('"n1": {', '"n1": {"id": "n1", "storey": "s1", "x": 9, "y": 9},\n      "n1": {'),
      'nodes.n1',
      /given twice/,
    ),
    { name: 'a list', file: '[]', path: '', message: /should be one record/ },
    { name: 'a number', file: '12', path: '', message: /should be one record/ },
    bad('another format', 'format', /not a Zonewright plan/, (f) => (f['format'] = 'other')),
    bad('no format', 'format', /not a Zonewright plan/, (f) => delete f['format']),
    bad(
      'newer version',
      'version',
      /newer Zonewright \(format 3\).*reads up to format 2/,
      (f) => (f['version'] = 3),
    ),
    bad('newer version with things unknown', 'version', /newer/, (f) => {
      f['version'] = 7;
      f['roofs'] = {};
      delete f['walls'];
    }),
    bad('version as text', 'version', /whole number/, (f) => (f['version'] = '1')),
    bad('version nought', 'version', /1 or more/, (f) => (f['version'] = 0)),
    bad('table missing', 'runs', /is missing/, (f) => delete f['runs']),
    bad('unknown table', 'roofs', /not a field/, (f) => (f['roofs'] = {})),
    bad('unknown field', 'runs.r1.colour', /not a field/, (f) => (f['runs'].byId.r1.colour = 'red')),
    bad('field missing', 'runs.r1.asLaid.note', /is missing/, (f) => delete f['runs'].byId.r1.asLaid.note),
    bad('text for a number', 'runs.r1.corners[3].x', /must be a number, not a text/, (f) => {
      f['runs'].byId.r1.corners[3].x = '12';
    }),
    bad(
      'number beyond reach',
      'nodes.n2.x',
      /from -10000000 to 10000000/,
      (f) => (f['nodes'].byId.n2.x = 1e300),
    ),
    {
      name: 'number beyond numbers',
      file: edited(doc, (f) => (f['nodes'].byId.n2.x = 1e300)).replace('1e+300', '1e400'),
      path: 'nodes.n2.x',
      message: /from -10000000/,
    },
    bad('null for a number', 'storeys.s1.level', /not null/, (f) => (f['storeys'].byId.s1.level = null)),
    bad('negative length', 'runs.r1.depth', /from 0/, (f) => (f['runs'].byId.r1.depth = -1)),
    bad('no thickness', 'buildUps.timber-stud.layers[1].thickness', /more than 0/, (f) => {
      f['buildUps'].byId['timber-stud'].layers[1].thickness = 0;
    }),
    bad(
      'no layers',
      'buildUps.timber-stud.layers',
      /at least 1/,
      (f) => (f['buildUps'].byId['timber-stud'].layers = []),
    ),
    bad('broken count', 'counters.w', /whole number/, (f) => (f['counters'].w = 1.5)),
    bad('flag as text', 'walls.w1.flipped', /true or false/, (f) => (f['walls'].byId.w1.flipped = 'yes')),
    bad(
      'unknown kind',
      'points.p1.kind',
      /must be "socket" or/,
      (f) => (f['points'].byId.p1.kind = 'toaster'),
    ),
    bad(
      'unknown surface',
      'points.p1.place.on',
      /"face" or "ceiling"/,
      (f) => (f['points'].byId.p1.place.on = 'roof'),
    ),
    bad('surface of something inherited', 'points.p1.place.on', /must be/, (f) => {
      f['points'].byId.p1.place.on = 'toString';
    }),
    bad('face place with a storey', 'points.p1.place.storey', /not a field/, (f) => {
      f['points'].byId.p1.place.storey = 's1';
    }),
    bad('list for a table', 'walls', /must be a record, not a list/, (f) => (f['walls'] = [])),
    bad('record for a list', 'runs.r1.corners', /must be a list/, (f) => (f['runs'].byId.r1.corners = {})),
    bad('no storeys', 'storeys.order', /at least 1/, (f) => (f['storeys'] = { order: [], byId: {} })),
    bad('an id in capitals', 'walls.order[0]', /must be an id/, (f) => (f['walls'].order[0] = 'W1')),
    bad(
      'an id too long',
      'walls.w1.from',
      /must be an id/,
      (f) => (f['walls'].byId.w1.from = 'n'.repeat(65)),
    ),
    bad(
      'an id "constructor"',
      'points.p1.circuit',
      /must be an id/,
      (f) => (f['points'].byId.p1.circuit = 'constructor'),
    ),
    bad('a record "constructor"', 'nodes.constructor', /must be an id/, (f) => {
      f['nodes'].byId.constructor = { id: 'constructor', storey: 's1', x: 0, y: 0 };
    }),
    {
      name: 'a record "__proto__"',
      file: edited(doc, (f) => (f['nodes'].byId.n9 = 0)).replace(
        '"n9": 0',
        '"__proto__": {"polluted": true}',
      ),
      path: 'nodes.__proto__',
      message: /must be an id/,
    },
    {
      name: 'a field "__proto__"',
      file: edited(doc, (f) => (f['job'].n9 = 0)).replace('"n9": 0', '"__proto__": {"polluted": true}'),
      path: 'job.__proto__',
      message: /not a field/,
    },
    bad(
      'a counter "__proto__"',
      'counters.constructor',
      /not a prefix/,
      (f) => (f['counters'].constructor = 1),
    ),
    bad('order names a stranger', 'walls.order[4]', /not in byId/, (f) => f['walls'].order.push('w9'), true),
    bad('order forgets one', 'walls.w2', /not named in order/, (f) => f['walls'].order.splice(1, 1), true),
    bad('order names one twice', 'walls.order[4]', /second time/, (f) => f['walls'].order.push('w1')),
    bad('id and key differ', 'walls.w1.id', /must be "w1"/, (f) => (f['walls'].byId.w1.id = 'w2'), true),
    bad(
      'a date of no calendar',
      'runs.r1.progress.pulled',
      /a date/,
      (f) => {
        f['runs'].byId.r1.progress.pulled = '2026-02-30';
      },
      true,
    ),
    bad('a date of another form', 'runs.r1.progress.pulled', /a date/, (f) => {
      f['runs'].byId.r1.progress.pulled = '17/05/2026';
    }),
    bad('notes too long', 'job.notes', /longer than 20000/, (f) => (f['job'].notes = 'x'.repeat(20_001))),
    bad('a name too long', 'job.title', /longer than 200 /, (f) => (f['job'].title = 'x'.repeat(201))),
    bad(
      'wall of no node',
      'walls.w1.to',
      /n77, which is not among the corners of walls/,
      (f) => (f['walls'].byId.w1.to = 'n77'),
      true,
    ),
    bad(
      'wall from a node to itself',
      'walls.w1.to',
      /another node/,
      (f) => (f['walls'].byId.w1.to = 'n1'),
      true,
    ),
    bad(
      'two walls in one place',
      'walls.w2',
      /same two nodes as w1/,
      (f) => {
        f['walls'].byId.w2.from = 'n2';
        f['walls'].byId.w2.to = 'n1';
      },
      true,
    ),
    bad(
      'wall with no length',
      'walls.w1',
      /no length/,
      (f) => (f['nodes'].byId.n2 = { ...f['nodes'].byId.n1, id: 'n2' }),
      true,
    ),
    bad(
      'run of no cable',
      'runs.r1.cable',
      /not among the cables/,
      (f) => (f['runs'].byId.r1.cable = 'rope'),
      true,
    ),
    bad('run to itself', 'runs.r1.to', /another point/, (f) => (f['runs'].byId.r1.to = 'p1'), true),
    bad(
      'corner on no wall',
      'runs.r1.corners[0].wall',
      /w9/,
      (f) => {
        f['runs'].byId.r1.corners[0] = { on: 'face', wall: 'w9', side: 'left', along: 0, z: 0 };
      },
      true,
    ),
    bad(
      'many dangling at once',
      'points.p1.circuit',
      /also points\.p2\.circuit.*runs\.r1\.circuit/,
      (f) => {
        f['circuits'] = { order: [], byId: {} };
      },
      true,
    ),
    bad(
      'a switch that works itself',
      'points.p3.controls[0]',
      /cannot work itself/,
      (f) => {
        f['points'].byId.p3.controls = [['p3']];
      },
      true,
    ),
    bad(
      'a label twice',
      'points.p2.label',
      /P1 is also the label of p1/,
      (f) => (f['points'].byId.p2.label = 'P1'),
      true,
    ),
    bad(
      'a layer that is not there',
      'buildUps.timber-stud.cableLayer.left',
      /one of the 3 layers/,
      (f) => {
        f['buildUps'].byId['timber-stud'].cableLayer.left = 3;
      },
      true,
    ),
    bad('a picture that is no base64', `assets.${'a'.repeat(64)}.base64`, /base64/, (f) => {
      f['assets'] = { ['a'.repeat(64)]: { mediaType: 'image/png', base64: 'Zm9v YmFy' } };
    }),
    bad('a picture under no hash', 'assets.picture', /SHA-256/, (f) => {
      f['assets'] = { picture: { mediaType: 'image/png', base64: 'Zm9v' } };
    }),
    bad('a picture of another kind', `assets.${'a'.repeat(64)}.mediaType`, /image\/png/, (f) => {
      f['assets'] = { ['a'.repeat(64)]: { mediaType: 'image/svg+xml', base64: 'Zm9v' } };
    }),
  ];
}

import { tableFrom } from '../../src/engine/model/defaults.ts';
import type { Circuit, Id, PlanDocument, Point, RoomTag, Storey } from '../../src/engine/model/document.ts';
import { rows } from '../../src/engine/model/tables.ts';
import { boxed, PlanBuilder } from './builder.ts';
import { INVENTED, numbered, type Mistake, type Mistaken } from './mistakes.ts';
import { makeStudio } from './studio.ts';

type Wish = Pick<Circuit, 'name' | 'topology' | 'device' | 'cable'> & Partial<Circuit>;

/** The plan with some rooms called and used otherwise. */
function withRoomsFor(
  doc: PlanDocument,
  names: Readonly<Record<string, readonly [string, RoomTag['use']]>>,
): PlanDocument {
  const tags = rows(doc.roomTags).map((tag) => {
    const [name, use] = names[tag.name] ?? [tag.name, tag.use];
    return { ...tag, name, use };
  });
  return { ...doc, roomTags: tableFrom(tags) };
}

/**
 * The studio with an invented annexe south of it: a hall of 20 by 5 m with a board for each circuit, a corridor, a kitchen
 * and a bathroom. One mistake of every rule about circuits and siting. Boards stand along the south wall of the hall,
 * outlets opposite on its north wall, so that no two circuits run side by side.
 */
export function makeElectricalMistakes(): Mistaken {
  const studio = withRoomsFor(makeStudio().doc, {
    WC: ['Wet room', 'bathroom'],
    'Kiln bay': ['Rest room', 'habitable'],
  });
  const b = new PlanBuilder(studio);
  const wall = (x0: number, y0: number, x1: number, y1: number): Id =>
    b.wall(b.node(x0, y0), b.node(x1, y1), 'block-plaster');
  const southWall = wall(-83, 14083, 24083, 14083);
  wall(-83, 7217, -83, 14083);
  wall(24083, 8917, 24083, 14083);
  const middle = wall(-83, 8917, 24083, 8917);
  wall(-83, 7217, 20083, 7217);
  wall(20083, 7217, 20083, 8917);
  wall(20083, 8917, 20083, 14083);
  const studyWall = wall(13083, 7217, 13083, 8917);
  b.opening(studyWall, 'door', 7600, 8400, 0, 2100);
  b.room(10000, 11500, 'Hall', 'circulation');
  b.room(6000, 8000, 'Corridor', 'circulation');
  b.room(16000, 8000, 'Tea kitchen', 'kitchen');
  b.room(22000, 12000, 'Bathroom', 'bathroom');
  const south = b.surface(southWall, 'left');
  const north = b.surface(middle, 'right');

  const box = (
    x0: number,
    y0: number,
    x1: number,
    y1: number,
    z0: number,
    z1: number,
    where: 'room' | 'ceiling',
  ) =>
    ({
      on: 'plan',
      storey: 's1',
      outline: [
        { x: x0, y: y0 },
        { x: x1, y: y0 },
        { x: x1, y: y1 },
        { x: x0, y: y1 },
      ],
      z0,
      z1,
      where,
    }) as const;

  const xOf = (i: number): number => 800 + 1400 * i;
  const rcd30 = { rcd: 30 } as const;
  const clipped = (circuit: Id) => ({ circuit, fixing: 'clipped' }) as const;
  /** A board of its own and the circuit it feeds. */
  const fed = (i: number, wish: Wish): { board: Id; circuit: Id } => {
    const board = b.point(b.on(south, xOf(i), 1400), {
      kind: 'consumer-unit',
      name: `Board for ${wish.name}`,
    });
    return { board, circuit: b.circuit({ ...wish, board }) };
  };
  const metal = (depth: number): Point['box'] => boxed('metal', 1, depth);
  /** A radial to one outlet straight opposite its board, by way of `corners` in the void. */
  const single = (
    i: number,
    wish: Wish,
    kind: Point['kind'],
    load: number,
    corners: string,
    depth = 47,
    z = 600,
  ) => {
    const { board, circuit } = fed(i, wish);
    const point = b.point(b.on(north, xOf(i), z), {
      kind,
      name: wish.name,
      box: metal(depth),
      circuit,
      load,
    });
    const run = b.over(board, point, wish.cable, corners, clipped(circuit));
    return { board, circuit, point, run };
  };
  const radial = (name: string, type: 'B' | 'C', rating: number, cable: Id): Wish => ({
    name,
    topology: 'radial',
    device: { type, rating, ...rcd30 },
    cable,
  });
  /** Out to x and back in the void at y and 200 mm further north. */
  const loopTo = (i: number, x: number, y: number): string =>
    `${xOf(i)},${y} ${x},${y} ${x},${y - 200} ${xOf(i)},${y - 200}`;

  const tooMuch = single(0, radial('Large kiln', 'C', 32, 'te6'), 'heavy-outlet', 10000, '');
  const thin = single(1, radial('Drying oven', 'B', 32, 'te2-5'), 'heavy-outlet', 5000, '');
  const far = single(
    2,
    radial('Far heater', 'B', 16, 'te1-5'),
    'fused-spur',
    3000,
    loopTo(2, 19000, 13500),
    35,
  );
  const high = single(3, radial('Pug mill', 'C', 32, 'te4'), 'heavy-outlet', 2000, loopTo(3, 12000, 13000));
  const nearly = single(
    4,
    radial('Slab roller', 'C', 32, 'te4'),
    'heavy-outlet',
    2000,
    loopTo(4, 7900, 12600),
  );

  const socket = (x: number, name: string, circuit: Id): Id =>
    b.point(b.on(north, x, 450), { kind: 'socket', name, box: metal(35), circuit });
  const ring = (name: string): Wish => ({
    name,
    topology: 'ring',
    device: { type: 'B', rating: 32, ...rcd30 },
    cable: 'te2-5',
  });
  // 20 A typed: its drop stays within the limit, so that it is too long and nothing else.
  const long = fed(5, { ...ring('Long ring'), designCurrent: 20 });
  const long1 = socket(7800, 'Long ring 1', long.circuit);
  const long2 = b.point(b.on(north, 8200, 450), {
    kind: 'heavy-outlet',
    name: 'Water heater on the long ring',
    box: metal(47),
    circuit: long.circuit,
    load: 3500,
    loadKind: 'other',
  });
  b.over(
    long.board,
    long1,
    'te2-5',
    `${loopTo(5, 19600, 12200)} ${loopTo(5, 19600, 11800)}`,
    clipped(long.circuit),
  );
  const thinLeg = b.run(long1, long2, 'te1-5', [], clipped(long.circuit));
  b.over(
    long2,
    long.board,
    'te2-5',
    '8200,10800 19600,10800 19600,11000 8200,11000 8200,11200 19600,11200 19600,11400 7800,11400',
    clipped(long.circuit),
  );

  const many = fed(6, ring('Spurred ring'));
  const many0 = socket(9200, 'Spurred ring 1', many.circuit);
  b.over(many.board, many0, 'te2-5', '', clipped(many.circuit));
  b.over(many0, many.board, 'te2-5', '9200,9500 9400,9500 9400,13500 9200,13500', clipped(many.circuit));
  for (const x of [8900, 9500]) {
    b.run(many0, socket(x, `Spur at ${x}`, many.circuit), 'te2-5', [], clipped(many.circuit));
  }

  const chain = fed(7, ring('Ring with a long spur'));
  const chain1 = socket(10600, 'Chain ring 1', chain.circuit);
  const chain2 = socket(11000, 'Chain ring 2', chain.circuit);
  const chain3 = socket(11300, 'Chain spur 1', chain.circuit);
  const chain4 = socket(11600, 'Chain spur 2', chain.circuit);
  b.over(chain.board, chain1, 'te2-5', '', clipped(chain.circuit));
  b.run(chain1, chain2, 'te2-5', [], clipped(chain.circuit));
  b.over(chain2, chain.board, 'te2-5', '11000,13500 10600,13500', clipped(chain.circuit));
  b.run(chain2, chain3, 'te2-5', [], clipped(chain.circuit));
  b.run(chain3, chain4, 'te2-5', [], clipped(chain.circuit));

  const lights = fed(8, {
    name: 'Hall lighting',
    topology: 'lighting',
    device: { type: 'B', rating: 6, ...rcd30 },
    cable: 'te1-5',
  });
  const lamp = b.point(b.ceiling(12000, 10000), {
    kind: 'ceiling-light',
    name: 'Hall light',
    circuit: lights.circuit,
    load: 100,
  });
  const twoWay = (x: number): Id =>
    b.point(b.on(north, x, 1200), {
      kind: 'switch-2way',
      name: `Hall switch at ${x}`,
      box: metal(25),
      circuit: lights.circuit,
      controls: [[lamp]],
    });
  const [switch1, switch2] = [twoWay(12000), twoWay(12400)];
  const back = '12000,13000 12030,13000 12030,13600 12200,13600 12200,10000';
  const bent = b.over(lights.board, lamp, 'te1-5', back, clipped(lights.circuit));
  b.over(lamp, switch1, 'te1-5', '', clipped(lights.circuit));
  const twoCore = b.over(switch1, switch2, 'te1-5', '', clipped(lights.circuit));

  const short = single(9, radial('Near heater', 'B', 16, 'te1-5'), 'fused-spur', 1000, '', 16, 2000);

  const alarms = fed(10, { ...radial('Annexe alarms', 'B', 6, 'te1-5'), cable3: 'tce1-5' });
  const smoke = b.point(b.ceiling(500, 7500), {
    kind: 'smoke-alarm',
    name: 'Corridor smoke alarm',
    circuit: alarms.circuit,
    load: 5,
  });
  const heat = b.point(b.ceiling(3000, 11000), {
    kind: 'heat-alarm',
    name: 'Hall heat alarm',
    circuit: alarms.circuit,
    load: 5,
  });
  b.over(alarms.board, smoke, 'te1-5', '14800,10300 500,10300', clipped(alarms.circuit));
  b.over(smoke, heat, 'tce1-5', '3000,7500', clipped(alarms.circuit));

  const bare = fed(11, {
    ...radial('Towel rail', 'B', 16, 'te2-5'),
    device: { type: 'B', rating: 16, rcd: null },
  });
  const rail = b.point(b.on(south, 21000, 600), {
    kind: 'fused-spur',
    name: 'Towel rail',
    box: metal(35),
    circuit: bare.circuit,
    load: 200,
  });
  b.over(bare.board, rail, 'te2-5', '16200,13900 21000,13900', {
    circuit: bare.circuit,
    fixing: 'conduit',
    protection: 'earthed-conduit',
  });

  const wide = fed(12, radial('Hall sockets', 'B', 20, 'te2-5'));
  const hall = b.point(b.on(north, 17600, 450), {
    kind: 'socket',
    name: 'Hall socket',
    gangs: 2,
    box: metal(35),
    circuit: wide.circuit,
  });
  const shaver = socket(20500, 'Bathroom socket', wide.circuit);
  const mirror = b.point(b.on(north, 21800, 1000), {
    kind: 'fused-spur',
    name: 'Mirror heater',
    box: metal(35),
    circuit: wide.circuit,
    load: 50,
  });
  const fan = b.point(b.on(north, 22150, 1900), {
    kind: 'extractor',
    name: 'Bath fan',
    circuit: wide.circuit,
    load: 20,
  });
  b.over(mirror, fan, 'te2-5', '', clipped(wide.circuit));
  b.over(wide.board, hall, 'te2-5', '', clipped(wide.circuit));
  b.over(hall, shaver, 'te2-5', '', clipped(wide.circuit));
  b.over(shaver, mirror, 'te2-5', '', clipped(wide.circuit));

  const hub = fed(13, radial('Row of kettles', 'B', 40, 'te10'));
  const row = (x: number): Id =>
    b.point(b.on(north, x, 450), {
      kind: 'heavy-outlet',
      name: `Kettle at ${x}`,
      box: metal(47),
      circuit: hub.circuit,
      load: 500,
    });
  const middleOne = row(19000);
  b.over(hub.board, middleOne, 'te10', '19000,13800 18900,13800 18900,9300 19000,9300', clipped(hub.circuit));
  for (const x of [18500, 18750, 19250, 19500])
    b.over(middleOne, row(x), 'te10', `19000,9300 ${x},9300`, clipped(hub.circuit));

  const dataOn = (x: number): Id =>
    b.point(b.on(north, x, 450), { kind: 'data', name: `Data at ${x}`, box: metal(35) });
  const dataRun = b.over(dataOn(17750), dataOn(18350), 'data-utp', '', { protection: 'selv-pelv' });

  b.thing('bath', 'Bath', box(22300, 9000, 24000, 9750, 0, 600, 'room'));
  b.thing('sink', 'Glaze sink', box(900, 9000, 1500, 9600, 700, 900, 'room'));
  b.thing('hob', 'Wax hob', box(2250, 9000, 2850, 9600, 850, 900, 'room'));
  b.thing('polystyrene', 'Polystyrene slabs', box(2000, 10500, 2400, 11000, 2400, 2600, 'ceiling'));
  b.thing('insulation', 'Strip of insulation', box(9000, 12900, 9040, 13100, 2400, 2600, 'ceiling'));
  b.thing('hot-pipe', 'Flow pipe', box(900, 10600, 922, 12000, 2480, 2502, 'ceiling'));

  const HALL = { wall: middle, room: 'Hall' } as const;
  const BATH = { wall: middle, room: 'Bathroom' } as const;
  const mistakes: readonly Mistake[] = [
    {
      rule: 'current-over-device',
      circuit: tooMuch.circuit,
      on: null,
      what: 'the large kiln takes 43.5 A from a device of 32 A',
    },
    {
      rule: 'rating-too-low',
      circuit: thin.circuit,
      run: thin.run,
      on: { wall: southWall, room: 'Hall' },
      what: 'the drying oven is on 32 A with 2.5 mm² cable',
    },
    {
      rule: 'voltage-drop',
      circuit: far.circuit,
      point: far.point,
      on: HALL,
      what: 'the far heater hangs on some 40 m of 1.5 mm²',
    },
    {
      rule: 'loop-too-high',
      circuit: high.circuit,
      point: high.point,
      on: HALL,
      what: 'the pug mill is on C32 with some 26 m of 4 mm²',
    },
    {
      rule: 'loop-near-limit',
      circuit: nearly.circuit,
      point: nearly.point,
      on: HALL,
      what: 'the slab roller is on C32 with some 16 m of 4 mm²: within the limit, above 80 % of it',
    },
    {
      rule: 'ring-too-long',
      circuit: long.circuit,
      point: long.board,
      on: { wall: southWall, room: 'Hall' },
      what: 'the long ring is longer than 106 m',
    },
    {
      rule: 'ring-load',
      circuit: long.circuit,
      point: long2,
      on: HALL,
      what: 'a water heater of 15.2 A hangs on the long ring',
    },
    {
      rule: 'ring-standard',
      circuit: long.circuit,
      run: thinLeg,
      on: HALL,
      what: 'one leg of the long ring is 1.5 mm²',
    },
    {
      rule: 'in-insulation',
      circuit: high.circuit,
      run: high.run,
      on: null,
      what: 'a strip of insulation 40 mm wide lies round the cable of the pug mill above the hall',
    },
    {
      rule: 'spurs-too-many',
      circuit: many.circuit,
      point: many.board,
      on: { wall: southWall, room: 'Hall' },
      what: 'the spurred ring has one point and two spurs',
    },
    {
      rule: 'spur-feeds-more',
      circuit: chain.circuit,
      point: chain4,
      on: HALL,
      what: 'an unfused spur feeds two sockets, one after the other',
    },
    {
      rule: 'area-too-large',
      circuit: wide.circuit,
      on: null,
      what: 'a 20 A radial serves sockets of the hall and the bathroom, over 100 m²',
    },
    {
      rule: 'too-few-cores',
      circuit: lights.circuit,
      run: twoCore,
      on: HALL,
      what: 'the two-way switches of the hall are joined by a two-core cable',
    },
    {
      rule: 'adiabatic',
      circuit: short.circuit,
      run: short.run,
      on: { wall: southWall, room: 'Hall' },
      what: 'the near heater is so near its board that a fault is too much for 1 mm² of protective conductor',
    },
    {
      rule: 'polystyrene-contact',
      run: thin.run,
      on: null,
      what: 'the cable of the drying oven lies in polystyrene above the hall',
    },
    {
      rule: 'near-pipe',
      run: tooMuch.run,
      on: null,
      what: 'a hot pipe runs beside the cable of the large kiln above the hall',
    },
    {
      rule: 'bend-tight',
      run: bent,
      on: null,
      what: 'the feed of the hall light turns back within 30 mm above the hall',
    },
    {
      rule: 'box-too-shallow',
      point: short.point,
      on: HALL,
      what: 'the near heater has a box of 16 mm',
    },
    {
      rule: 'alarm-too-near',
      point: smoke,
      on: null,
      what: 'the corridor smoke alarm is 200 mm from the wall',
    },
    {
      rule: 'alarm-coverage',
      point: smoke,
      on: null,
      what: 'the door of the tea kitchen is more than 12 m from the corridor smoke alarm',
    },
    {
      rule: 'heat-alarm-far',
      point: heat,
      on: null,
      what: 'the hall reaches some 17 m from its heat alarm',
    },
    {
      rule: 'alarms-not-linked',
      point: smoke,
      on: null,
      what: 'the alarms of the annexe and of the studio are on two circuits',
    },
    {
      rule: 'near-sink',
      point: tooMuch.point,
      on: HALL,
      what: 'the outlet of the large kiln is 100 mm from the glaze sink',
    },
    {
      rule: 'near-hob',
      point: thin.point,
      on: HALL,
      what: 'the outlet of the drying oven is 50 mm from the wax hob',
    },
    {
      rule: 'bathroom-socket',
      point: shaver,
      on: BATH,
      what: 'a socket in the bathroom is 1800 mm from the bath',
    },
    {
      rule: 'bathroom-zone',
      point: mirror,
      on: BATH,
      what: 'the mirror heater unit is 500 mm from the bath',
    },
    {
      rule: 'bathroom-ip',
      point: fan,
      on: BATH,
      what: 'the fan beside the bath is 105 mm from it and below 2,250 mm',
    },
    { rule: 'bathroom-not-checked', on: null, what: 'no bath or shower is drawn in the wet room' },
    {
      rule: 'box-gangs',
      point: hall,
      on: HALL,
      what: 'the two-gang hall socket has a one-gang box',
    },
    {
      rule: 'strip-full',
      on: HALL,
      what: 'five cables of 10 mm² come down to one kettle outlet, in the strip of a plate of 86 mm',
    },
    {
      rule: 'mains-beside-data',
      run: dataRun,
      on: null,
      what: 'a data cable lies on the cable of the hall sockets for 600 mm above the hall',
    },
    { rule: 'smoke-alarm-far', on: null, what: 'the corridor reaches some 12 m from its smoke alarm' },
    { rule: 'escape-no-alarm', on: null, what: 'the hall is a way out and has no smoke alarm' },
    { rule: 'kitchen-no-heat-alarm', on: null, what: 'the tea kitchen has no heat alarm' },
    {
      rule: 'room-out-of-reach',
      on: null,
      what: 'the rest room opens on the workshop only and has no alarm',
    },
    {
      rule: 'bathroom-no-rcd',
      circuit: bare.circuit,
      point: rail,
      on: { wall: southWall, room: 'Bathroom' },
      what: 'the towel rail in the bathroom is on a circuit without an RCD',
    },
  ];
  const { supply } = studio.job;
  const doc = b.build(
    {
      title: 'Pottery studio with mistakes of circuits (invented)',
      // Figures of supply for the sake of the check of the protective conductor.
      supply: { ...supply, ze: 0.36, faultCurrent: 1500 },
      notes: [
        INVENTED,
        'An annexe with one mistake of every rule about circuits and siting, seeded on purpose:',
        numbered(mistakes),
      ].join('\n'),
    },
    // No joists are known of the annexe, so that its cables are clipped along and through nothing.
    { ceiling: { ...(studio.storeys.byId.s1 as Storey).ceiling, joists: null } },
  );
  return { doc, mistakes };
}

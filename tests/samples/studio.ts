import { newDocument } from '../../src/engine/model/defaults.ts';
import type { PlanDocument } from '../../src/engine/model/document.ts';
import { boxed, PlanBuilder, type Surface } from './builder.ts';

// The pottery studio, invented. Plan coordinates in mm; 0,0 is the inner corner at the north-west (top left), so that
// inside surfaces of the outer walls lie at x = 0 and 8600, y = 0 and 4700. Outer walls are 257 mm thick: their centre
// lines lie 128.5 mm outside. Joists run north to south with bearings on the north and south walls: cables cross them
// between 1175 and 1880 or between 2820 and 3525 mm (0.25 to 0.4 of the span from a bearing, NBS clause 670).

/** Inside surfaces a point can be on, by name. */
export interface StudioSurfaces {
  readonly north: Surface;
  readonly south: Surface;
  readonly west: Surface;
  readonly east: Surface;
  /** Block wall, seen from the workshop and from the lobby and kiln bay. */
  readonly blockWest: Surface;
  readonly blockEast: Surface;
  /** Metal partition, seen from the lobby and WC and from the kiln bay. */
  readonly metalNorth: Surface;
  readonly metalSouth: Surface;
  /** Thin partition, seen from the lobby and from the WC. */
  readonly thinLobby: Surface;
  readonly thinWc: Surface;
  readonly screenWest: Surface;
}

export const NOTES = [
  'Everything in this plan is invented: the building, its rooms, the loads and the readings. Not for building.',
  'One storey, about 9 by 5 m: workshop with glazing bench, kiln bay, lobby and WC.',
  'Timber frame with a battened void inside, one block wall, one metal-framed and two thin timber partitions.',
  'Every run is drawn by hand: over the ceiling and plumb down to each point, or level from point to point.',
].join('\n');

function drawFabric(b: PlanBuilder): StudioSurfaces {
  const nw = b.node(-128.5, -128.5);
  const sw = b.node(-128.5, 4828.5);
  const se = b.node(8728.5, 4828.5);
  const ne = b.node(8728.5, -128.5);
  // Drawn against the clock, so that their left side, with the void, is inside.
  const south = b.wall(sw, se, 'timber-void');
  const east = b.wall(se, ne, 'timber-void');
  const north = b.wall(ne, nw, 'timber-void');
  const west = b.wall(nw, sw, 'timber-void');
  const block = b.wall(b.node(5283, -128.5), b.node(5283, 4828.5), 'block-plaster');
  const metal = b.wall(b.node(5283, 2652.5), b.node(8728.5, 2652.5), 'metal-stud');
  b.told(metal);
  const thin = b.wall(b.node(6894, -128.5), b.node(6894, 2652.5), 'timber-stud');
  b.told(thin);
  const screen = b.wall(b.node(2500, 4828.5), b.node(2500, 3700), 'timber-stud');

  b.opening(north, 'door', 5600, 6500, 0, 2100);
  b.opening(north, 'window', 800, 2600, 1200, 2100);
  b.opening(west, 'window', 1400, 3300, 1200, 2100);
  b.opening(south, 'window', 700, 2050, 1200, 2100);
  b.opening(south, 'door', 3300, 4900, 0, 2100);
  b.opening(east, 'window', 500, 1100, 1200, 2100);
  b.opening(east, 'window', 3300, 4300, 1200, 2100);
  b.opening(block, 'door', 700, 1500, 0, 2100);
  b.opening(block, 'opening', 3700, 4600, 0, 2100);
  b.opening(thin, 'door', 1500, 2300, 0, 2100);

  b.room(2600, 2000, 'Workshop', 'workshop');
  b.room(7600, 4300, 'Kiln bay', 'workshop');
  b.room(6100, 2000, 'Lobby', 'circulation');
  b.room(7800, 1000, 'WC', 'other');

  return {
    north: b.surface(north, 'left'),
    south: b.surface(south, 'left'),
    west: b.surface(west, 'left'),
    east: b.surface(east, 'left'),
    blockWest: b.surface(block, 'right'),
    blockEast: b.surface(block, 'left'),
    metalNorth: b.surface(metal, 'left'),
    metalSouth: b.surface(metal, 'right'),
    thinLobby: b.surface(thin, 'right'),
    thinWc: b.surface(thin, 'left'),
    screenWest: b.surface(screen, 'left'),
  };
}

function placeThings(b: PlanBuilder): void {
  const plan = (corners: readonly (readonly [number, number])[], z0: number, z1: number) =>
    ({
      on: 'plan',
      storey: 's1',
      outline: corners.map(([x, y]) => ({ x, y })),
      z0,
      z1,
      where: 'room',
    }) as const;
  const box = (x0: number, y0: number, x1: number, y1: number, z0: number, z1: number) =>
    plan(
      [
        [x0, y0],
        [x1, y0],
        [x1, y1],
        [x0, y1],
      ],
      z0,
      z1,
    );
  const bench = [
    [0, 0],
    [780, 0],
    [780, 650],
    [650, 650],
    [650, 4400],
    [0, 4400],
  ] as const;
  b.thing('worktop', 'Glazing bench', plan(bench, 860, 900));
  b.thing('sink', 'Sink', box(1000, 4200, 1800, 4700, 700, 900));
  b.thing('unit', 'Kiln', box(5700, 2900, 6350, 3550, 0, 1000));
}

/** Circuit ids, and points by name. */
function placePoints(b: PlanBuilder, at: StudioSurfaces) {
  const board = b.point(b.on(at.thinLobby, 700, 1400), { kind: 'consumer-unit', name: 'Consumer unit' });
  const rcd = { rcd: 30 } as const;
  const c = {
    kiln: b.circuit({
      name: 'Kiln',
      topology: 'radial',
      device: { type: 'C', rating: 40, ...rcd },
      cable: 'te10',
      board,
    }),
    ring: b.circuit({
      name: 'Sockets ring',
      topology: 'ring',
      device: { type: 'B', rating: 32, ...rcd },
      cable: 'te2-5',
      board,
    }),
    light: b.circuit({
      name: 'Lighting',
      topology: 'lighting',
      device: { type: 'B', rating: 6, ...rcd },
      cable: 'te1-5',
      cable3: 'tce1-5',
      board,
    }),
    alarm: b.circuit({
      name: 'Alarms',
      topology: 'radial',
      device: { type: 'B', rating: 6, ...rcd },
      cable: 'te1-5',
      cable3: 'tce1-5',
      board,
    }),
  };
  const twin = (surface: Surface, t: number, z: number, name: string) =>
    b.point(b.on(surface, t, z), {
      kind: 'socket',
      name,
      gangs: 2,
      box: boxed('dry-lining', 2, 35),
      circuit: c.ring,
    });
  const lamp = (x: number, y: number, name: string) =>
    b.point(b.ceiling(x, y), { kind: 'ceiling-light', name, circuit: c.light, load: 40 });

  const s = {
    lobby: twin(at.metalNorth, 6100, 450, 'Lobby socket'),
    kilnBay: twin(at.south, 7400, 450, 'Kiln bay socket'),
    wheel: twin(at.south, 2900, 1100, 'Socket at the wheel'),
    bench1: twin(at.west, 4000, 1100, 'Bench socket, south'),
    bench2: twin(at.west, 2350, 1100, 'Bench socket, middle'),
    bench3: twin(at.west, 700, 1100, 'Bench socket, north'),
    corner: twin(at.north, 450, 1100, 'Bench socket, corner'),
    north1: twin(at.north, 3400, 450, 'North wall socket 1'),
    north2: twin(at.north, 4600, 450, 'North wall socket 2'),
  };
  const heater = b.point(b.on(at.south, 2250, 1100), {
    kind: 'fused-spur',
    name: 'Water heater',
    box: boxed('dry-lining', 1, 35),
    circuit: c.ring,
    load: 2200,
  });
  const isolator = b.point(b.on(at.metalSouth, 7000, 1200), {
    kind: 'isolator',
    name: 'Kiln isolator',
    box: boxed('dry-lining', 1, 47),
    circuit: c.kiln,
  });
  const kiln = b.point(b.on(at.blockEast, 3200, 600), {
    kind: 'heavy-outlet',
    name: 'Kiln outlet',
    box: boxed('metal', 1, 47),
    circuit: c.kiln,
    load: 8000,
  });
  const lobbyLight = lamp(6000, 1600, 'Lobby light');
  const lobbySwitch = b.point(b.on(at.north, 6650, 1200), {
    kind: 'switch-1way',
    name: 'Lobby switch',
    box: boxed('dry-lining', 1, 35),
    circuit: c.light,
    controls: [[lobbyLight]],
  });
  const wcLight = lamp(7750, 1600, 'WC light');
  const fan = b.point(b.on(at.east, 1850, 2200), {
    kind: 'extractor',
    name: 'WC extractor',
    circuit: c.light,
    load: 15,
  });
  const wcSwitch = b.point(b.on(at.thinWc, 1350, 1200), {
    kind: 'switch-1way',
    name: 'WC switch',
    box: boxed('dry-lining', 1, 35),
    circuit: c.light,
    controls: [[wcLight, fan]],
  });
  const fanIsolator = b.point(b.on(at.thinWc, 1850, 2250), {
    kind: 'isolator',
    name: 'Fan isolator',
    box: boxed('dry-lining', 1, 35),
    circuit: c.light,
  });
  const kilnLight = lamp(7000, 3500, 'Kiln bay light');
  const kilnSwitch = b.point(b.on(at.blockWest, 3450, 1200), {
    kind: 'switch-1way',
    name: 'Kiln bay switch',
    box: boxed('metal', 1, 35),
    circuit: c.light,
    controls: [[kilnLight]],
  });
  const w1 = lamp(1300, 1600, 'Workshop light, north-west');
  const w2 = lamp(3900, 1600, 'Workshop light, north-east');
  const w3 = lamp(1300, 3100, 'Workshop light, south-west');
  const w4 = lamp(3900, 3100, 'Workshop light, south-east');
  const switchA = b.point(b.on(at.blockWest, 1650, 1200), {
    kind: 'switch-2way',
    name: 'Workshop switch at the lobby door',
    box: boxed('metal', 1, 35),
    circuit: c.light,
    controls: [[w1, w2, w3, w4]],
  });
  const switchB = b.point(b.on(at.south, 3150, 1200), {
    kind: 'switch-2way',
    name: 'Workshop switch at the yard door',
    box: boxed('dry-lining', 1, 35),
    circuit: c.light,
    controls: [[w1, w2, w3, w4]],
  });
  const smoke = b.point(b.ceiling(6100, 1200), {
    kind: 'smoke-alarm',
    name: 'Lobby smoke alarm',
    circuit: c.alarm,
    load: 5,
  });
  const heat = b.point(b.ceiling(2600, 2350), {
    kind: 'heat-alarm',
    name: 'Workshop heat alarm',
    circuit: c.alarm,
    load: 5,
  });
  const dataIn = b.point(b.on(at.north, 5480, 450), {
    kind: 'data',
    name: 'Data in the lobby',
    box: boxed('dry-lining', 1, 35),
  });
  const dataOut = b.point(b.on(at.blockWest, 1850, 450), {
    kind: 'data',
    name: 'Data in the workshop',
    box: boxed('metal', 1, 35),
  });
  const lights = { lobbyLight, wcLight, kilnLight, w1, w2, w3, w4 };
  const switches = { lobbySwitch, wcSwitch, fanIsolator, kilnSwitch, switchA, switchB };
  return { c, board, s, heater, isolator, kiln, fan, smoke, heat, dataIn, dataOut, ...lights, ...switches };
}

function drawRuns(b: PlanBuilder, at: StudioSurfaces, p: ReturnType<typeof placePoints>): void {
  const { s, c, board } = p;
  // Clipped side by side where they go up from the board: the rating of the ring depends on it.
  const kiln = { circuit: c.kiln, fixing: 'clipped' } as const;
  b.over(board, p.isolator, 'te10', '7000,700', kiln);
  b.over(p.isolator, p.kiln, 'te10', '7000,3200', kiln);

  const ring = { circuit: c.ring, fixing: 'clipped' } as const;
  const te = 'te2-5';
  b.over(board, s.lobby, te, '6750,700 6750,1800 6100,1800', ring);
  b.over(s.lobby, s.kilnBay, te, '6100,3000 7450,3000 7450,4700', ring);
  b.over(s.kilnBay, s.wheel, te, '7400,3300 2900,3300', ring);
  b.over(s.wheel, s.bench1, te, '2850,4700 2850,3400 200,3400 200,4000', ring);
  b.run(s.bench1, s.bench2, te, [], ring);
  b.run(s.bench2, s.bench3, te, [], ring);
  // Round the corner of the workshop behind the bench, level.
  b.run(s.bench3, s.corner, te, [b.on(at.west, 0, 1100), b.on(at.north, 0, 1100)], ring);
  b.over(s.corner, s.north1, te, '450,1400 3400,1400', ring);
  b.run(s.north1, s.north2, te, [], ring);
  b.over(s.north2, board, te, '4600,1400 6700,1400 6700,700', ring);
  // The spur, level through the screen beside the sink.
  b.run(s.wheel, p.heater, te, [], { ...ring, notes: 'Unfused spur to the water heater.' });

  const light = { circuit: c.light } as const;
  const two = 'te1-5';
  const three = 'tce1-5';
  b.over(board, p.lobbyLight, two, '6600,700 6600,1500 6000,1500', light);
  b.over(p.lobbyLight, p.lobbySwitch, two, '6000,1700 6650,1700', light);
  b.over(p.lobbyLight, p.wcLight, two, '', light);
  b.over(p.wcLight, p.wcSwitch, two, '7750,1350', light);
  b.over(p.wcLight, p.fanIsolator, three, '7750,1800 6938,1800', light);
  b.over(p.fanIsolator, p.fan, three, '', light);
  b.over(p.wcLight, p.kilnLight, two, '7750,3500', light);
  b.over(p.kilnLight, p.kilnSwitch, two, '7000,3450', light);
  b.over(p.lobbyLight, p.w2, two, '', light);
  b.over(p.w2, p.w1, two, '', light);
  b.over(p.w1, p.w3, two, '', light);
  b.over(p.w3, p.w4, two, '', light);
  b.over(p.w2, p.switchA, two, '3900,1650', light);
  b.over(p.switchA, p.switchB, three, '5200,3000 3150,3000', {
    ...light,
    notes: 'Strappers between the two-way switches.',
  });

  const alarm = { circuit: c.alarm } as const;
  b.over(board, p.smoke, two, '6550,700 6550,1200', alarm);
  b.over(p.smoke, p.heat, three, '6100,1250 2600,1250', { ...alarm, notes: 'Interlink.' });

  b.over(p.dataIn, p.dataOut, 'data-utp', '5480,1850', { protection: 'selv-pelv' });
}

/** The studio and a look-up of its surfaces, for building on. */
export function makeStudio(): { readonly doc: PlanDocument; readonly surfaces: StudioSurfaces } {
  const b = new PlanBuilder(newDocument('Pottery studio'));
  const surfaces = drawFabric(b);
  placeThings(b);
  drawRuns(b, surfaces, placePoints(b, surfaces));
  const doc = b.build(
    { title: 'Pottery studio (invented)', notes: NOTES },
    {
      name: 'Ground floor',
      ceilingHeight: 2400,
      ceiling: {
        kind: 'void',
        voidDepth: 220,
        cableRise: 110,
        joists: {
          direction: Math.PI / 2,
          depth: 220,
          breadth: 47,
          centres: 400,
          span: 4700,
          member: 'solid',
          chart: '',
        },
        insulation: 'none',
      },
    },
  );
  return { doc, surfaces };
}

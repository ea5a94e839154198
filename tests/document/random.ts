import { acceptFinding, withdrawAcceptance } from '../../src/document/commands/acceptances.ts';
import { editBuildUp } from '../../src/document/commands/buildUps.ts';
import { editCable } from '../../src/document/commands/catalogue.ts';
import {
  addCircuit,
  assignPoints,
  editCircuit,
  removeCircuits,
  setControls,
} from '../../src/document/commands/circuits.ts';
import { editJob } from '../../src/document/commands/job.ts';
import { moveNode, moveWall, setWallLength } from '../../src/document/commands/moveWalls.ts';
import { addOpening, editOpening, removeOpenings } from '../../src/document/commands/openings.ts';
import {
  addPoint,
  duplicateAlong,
  editPoints,
  movePoint,
  removePoints,
} from '../../src/document/commands/points.ts';
import { addReading, removeReadings } from '../../src/document/commands/readings.ts';
import { addRoomTag, addThing, editRoomTag, removeThings } from '../../src/document/commands/rooms.ts';
import {
  dropToPoint,
  insertCorner,
  moveCorner,
  moveStretch,
  removeCorner,
} from '../../src/document/commands/runCorners.ts';
import {
  addRun,
  connectRun,
  editRuns,
  removeRuns,
  reverseRuns,
  setProgress,
} from '../../src/document/commands/runs.ts';
import { addStorey, editStorey, removeStorey } from '../../src/document/commands/storeys.ts';
import { transformPlan } from '../../src/document/commands/transform.ts';
import {
  addPicture,
  editTracing,
  setKnownLengths,
  turnTracing,
} from '../../src/document/commands/tracings.ts';
import {
  addWallChain,
  flipWalls,
  removeWalls,
  setWallTop,
  splitWall,
} from '../../src/document/commands/walls.ts';
import type { Command } from '../../src/document/types.ts';
import type { Place, PlanDocument, PointKind } from '../../src/engine/model/document.ts';
import { POINT_KIND_NAMES } from '../../src/engine/model/pointKinds.ts';

/** A seeded generator (mulberry32): numbers from 0 up to 1. */
export function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** A random command for a document: often allowed, sometimes refused, never a wrong call. */
export function randomCommand(doc: PlanDocument, random: () => number): Command {
  const within = (min: number, max: number) => min + random() * (max - min);
  const pick = <T>(list: readonly T[]): T | undefined => list[Math.floor(random() * list.length)];
  const any = (
    name: 'walls' | 'nodes' | 'points' | 'runs' | 'circuits' | 'openings' | 'things' | 'storeys',
  ) => pick(doc[name].order) ?? 'none';
  const storey = any('storeys');
  const face = (): Place => ({
    on: 'face',
    wall: any('walls'),
    side: random() < 0.5 ? 'left' : 'right',
    along: within(0, 5000),
    z: within(0, 2500),
  });
  const over = (): Place => ({
    on: random() < 0.7 ? 'ceiling' : 'floor',
    storey,
    x: within(0, 6000),
    y: within(0, 6000),
  });
  const spot = () => ({ x: within(0, 6000), y: within(0, 6000) });
  const place = () => (random() < 0.7 ? face() : over());
  const points = () => [any('points'), any('points')].filter((id, i, all) => all.indexOf(id) === i);
  const run = any('runs');
  const corner = Math.floor(within(0, 4));
  const picture = pick(doc.tracings.order) ?? 'none';
  const makers: readonly (() => Command)[] = [
    () => addWallChain(storey, [spot(), spot(), spot()], 'timber-stud'),
    () => addWallChain(storey, [spot(), doc.nodes.byId[any('nodes')] ?? spot()], 'block-plaster'),
    () => moveNode(any('nodes'), random() < 0.8 ? spot() : (doc.nodes.byId[any('nodes')] ?? spot())),
    () => moveWall(any('walls'), within(-400, 400)),
    () => setWallLength(any('walls'), within(500, 6000), random() < 0.5 ? 'from' : 'to'),
    () => flipWalls([any('walls')]),
    () => setWallTop([any('walls')], { kind: 'sloped', zFrom: within(2000, 2600), zTo: within(2000, 2600) }),
    () => splitWall(any('walls'), within(0, 4000)),
    () => removeWalls([any('walls')], random() < 0.6),
    () =>
      addOpening({
        wall: any('walls'),
        kind: 'door',
        along: within(0, 4000),
        width: 800,
        sill: 0,
        head: 2040,
      }),
    () => editOpening(any('openings'), { along: within(0, 4000) }),
    () => removeOpenings([any('openings')]),
    () => addRoomTag({ storey, ...spot(), name: 'Glazing', use: 'workshop' }),
    () => editRoomTag(pick(doc.roomTags.order) ?? 'none', { name: `Room ${Math.floor(within(0, 99))}` }),
    () =>
      addThing({
        kind: 'no-cable',
        name: '',
        place: {
          on: 'face',
          wall: any('walls'),
          side: 'left',
          along0: 100,
          along1: within(200, 900),
          z0: 0,
          z1: 700,
        },
      }),
    () => removeThings([any('things')]),
    () => addPoint({ kind: pick(POINT_KIND_NAMES) as PointKind, place: place() }),
    () => addPoint({ kind: 'socket', place: face() }),
    () => movePoint(any('points'), place()),
    () => editPoints(points(), { visible: random() < 0.5, gangs: random() < 0.5 ? 1 : 2 }),
    () => removePoints(points()),
    () => duplicateAlong(any('points'), place(), 3),
    () => addCircuit({ topology: pick(['ring', 'radial', 'lighting'] as const) ?? 'ring' }),
    () => editCircuit(any('circuits'), { first: points() }),
    () => removeCircuits([any('circuits')]),
    () => assignPoints(points(), random() < 0.8 ? any('circuits') : null),
    () => setControls(any('points'), random() < 0.7 ? 0 : 1, points()),
    () => addRun({ from: any('points'), to: any('points'), corners: [place(), over(), over(), place()] }),
    () => addRun({ from: any('points'), to: null, corners: [face(), over()] }),
    () => editRuns([run], { depth: random() < 0.5 ? null : within(0, 60), locked: random() < 0.1 }),
    () => connectRun(run, random() < 0.5 ? 'from' : 'to', random() < 0.5 ? null : any('points')),
    () => reverseRuns([run]),
    () => setProgress([run], 'pulled', random() < 0.5 ? '2026-05-17' : null),
    () => removeRuns([run]),
    () => moveCorner(run, corner, place(), random() < 0.5),
    () => moveStretch(run, corner, { x: within(-300, 300), y: within(-300, 300), z: within(-300, 300) }),
    () => insertCorner(run, corner, place()),
    () => removeCorner(run, corner),
    () => dropToPoint(run, random() < 0.5 ? 'from' : 'to', any('points')),
    () => addStorey('Upper floor'),
    () => editStorey(storey, { ceilingHeight: within(2200, 2800) }),
    () => removeStorey(storey),
    () => transformPlan({ x: within(-50, 50), y: within(-50, 50) }, Math.floor(within(0, 4))),
    () =>
      addPicture({
        storey,
        name: 'plan.png',
        mediaType: 'image/png',
        asset: 'a'.repeat(64),
        width: 1200,
        height: 800,
      }),
    () => editTracing(picture, { x: within(-100, 100), opacity: random() }),
    () => turnTracing(picture, within(-1, 1), spot()),
    () =>
      setKnownLengths(
        picture,
        random() < 0.3 ? [] : [{ ax: 0, ay: 0, bx: within(100, 900), by: 0, length: within(900, 9000) }],
      ),
    () => editBuildUp('timber-stud', { name: `Stud ${Math.floor(within(0, 99))}` }),
    () => editCable('te2-5', { remnants: [within(1, 20)] }),
    () => editJob({ title: `Pottery ${Math.floor(within(0, 99))}` }),
    () => acceptFinding({ finding: `rule:${any('runs')}`, reason: 'As built', by: '', date: '2026-05-17' }),
    () => withdrawAcceptance(`rule:${any('runs')}`),
    () =>
      addReading({
        circuit: any('circuits'),
        run: null,
        point: null,
        kind: 'r1',
        value: within(0, 2),
        stage: 'final',
        date: '2026-05-17',
        instrument: '',
        by: '',
        note: '',
      }),
    () => removeReadings([pick(doc.readings.order) ?? 'none']),
  ];
  return (pick(makers) as () => Command)();
}

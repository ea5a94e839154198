import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import type { Finding } from '../../../src/engine/checks/types.ts';
import { tableFrom } from '../../../src/engine/model/defaults.ts';
import type { Circuit, PlanDocument, Point, Run } from '../../../src/engine/model/document.ts';
import { planOf } from '../fabric/plans.ts';
import { aCircuit, aPoint } from '../zones/faces.ts';

/**
 * One room, 4 by 3 m to the centre lines, block walls of 145 mm, ceiling 2400: w1 north, w2 east, w3 south, w4 west. The
 * right sides look in; along 0 of each is a corner.
 */
export function aRoom(over: Partial<PlanDocument> & { frame?: string } = {}): PlanDocument {
  const { frame = 'block-dabs', ...rest } = over;
  return {
    ...planOf({
      nodes: { n1: [0, 0], n2: [4000, 0], n3: [4000, 3000], n4: [0, 3000] },
      walls: {
        w1: ['n1', 'n2', frame],
        w2: ['n2', 'n3', frame],
        w3: ['n3', 'n4', frame],
        w4: ['n4', 'n1', frame],
      },
      tags: [{ id: 't1', storey: 's1', x: 2000, y: 1500, name: 'Glaze room', use: 'habitable' }],
    }),
    ...rest,
  };
}

export const aBoard = (over: Parameters<typeof aPoint>[1] = {}): Point =>
  aPoint('p1', {
    kind: 'consumer-unit',
    along: 500,
    z: 1400,
    circuit: null,
    box: null,
    plate: { width: 360, height: 240 },
    ...over,
  });

/** A room with these points, circuits and runs. */
export function plan(
  points: readonly Point[],
  runs: readonly Run[],
  circuits: readonly Circuit[] = [aCircuit('c1', { board: 'p1' })],
  over: Parameters<typeof aRoom>[0] = {},
): PlanDocument {
  return aRoom({
    points: tableFrom(points),
    runs: tableFrom(runs),
    circuits: tableFrom(circuits),
    ...over,
  });
}

/** The real findings of one rule. */
export function found(doc: PlanDocument, rule: string): Finding[] {
  return deriveAll(doc).findings.filter((f) => f.rule === rule);
}

/** The rules of routes, zones, points and joining up. Circuits are worked out, and tested, apart from these. */
const HERE = new Set([
  'scale-none',
  'scale-one',
  'scale-residual',
  'room-not-closed',
  'same-spot',
  'point-off-wall',
  'point-in-opening',
  'box-missing',
  'joint-hidden',
  'height-new-dwelling',
  'point-unassigned',
  'circuit-no-board',
  'circuit-not-reaching-board',
  'ring-open',
  'point-unreached',
  'socket-no-rcd',
  'luminaire-no-rcd',
  'run-unresolved',
  'parked-end',
  'zone-outside',
  'zone-disputed',
  'diagonal',
  'opening-crossed',
  'cover-needs-rcd',
  'metal-frame',
  'depth-does-not-fit',
  'turn-away-from-point',
  'run-through-no-cable',
  'end-mismatch',
  'run-no-circuit',
  'run-longer-than-drum',
]);

/** Ids of those rules that found something, each as often as it did. */
export const rulesOf = (doc: PlanDocument): string[] =>
  deriveAll(doc).findings.flatMap((f) => (HERE.has(f.rule) ? [f.rule] : []));

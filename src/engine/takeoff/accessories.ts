import type { Gangs, PlanDocument, Point, PointKind } from '../model/document.ts';
import { gangWord, POINT_KIND_NAMES } from '../model/pointKinds.ts';
import { rows } from '../model/tables.ts';
import { COUNTED, type Sundry } from './types.ts';

/** How many names a working gives before it sums up the rest. */
const NAMED = 20;

/** A list of names that stays short: "P1, P2 and 7 more". */
export function briefly(names: readonly string[]): string {
  const more = names.length - NAMED;
  return more > 1 ? `${names.slice(0, NAMED).join(', ')} and ${more} more` : names.join(', ');
}

/** What is bought for a kind of point, besides its box. */
const BOUGHT: Readonly<Record<PointKind, string>> = {
  socket: 'Socket front',
  'switch-1way': 'One-way switch plate',
  'switch-2way': 'Two-way switch plate',
  'switch-intermediate': 'Intermediate switch plate',
  'switch-pull': 'Pull switch',
  'fused-spur': 'Fused connection unit',
  isolator: 'Isolator',
  'heavy-outlet': 'Cooker or heavy-load outlet plate',
  'ceiling-light': 'Ceiling light',
  'wall-light': 'Wall light',
  extractor: 'Extractor fan',
  'smoke-alarm': 'Smoke alarm',
  'heat-alarm': 'Heat alarm',
  data: 'Data outlet front',
  'consumer-unit': 'Consumer unit',
  joint: 'Joint box or connectors',
  'blank-plate': 'Blank plate',
};

/** Fronts, plates and fittings to buy, one line for each kind and number of gangs, in the order of the palette. */
export function accessoriesOf(doc: PlanDocument): Sundry[] {
  const points = rows(doc.points);
  return POINT_KIND_NAMES.flatMap((kind) =>
    ([1, 2, 3, 4, 5, 6] as const).flatMap((gangs) => {
      const own = points.filter((p) => p.kind === kind && p.gangs === gangs);
      return own.length === 0 ? [] : [lineOf(kind, gangs, own)];
    }),
  );
}

function lineOf(kind: PointKind, gangs: Gangs, own: readonly Point[]): Sundry {
  return {
    key: `accessory.${kind}.${gangs}`,
    what: `${BOUGHT[kind]}${gangs > 1 ? `, ${gangWord(gangs)}` : ''}`,
    count: own.length,
    working: briefly(own.map((p) => p.label)),
    source: COUNTED,
    runs: [],
    points: own.map((p) => p.id),
  };
}

import type { Derived } from '../derive/types.ts';
import type { Finding, Severity } from '../checks/types.ts';
import { list } from '../checks/words.ts';
import { roomHolds } from '../fabric/lookup.ts';
import type { Id, PlanDocument, Run } from '../model/document.ts';
import { find, rows } from '../model/tables.ts';
import { spotOf } from '../zones/spots.ts';
import { coverReadings, type RunReadings } from './coverReadings.ts';
import { faceSurface, surfaceName, surfacesOfRun, voidSurface, type CoverSurface } from './coverSurfaces.ts';

/** What may stand in the way, the heaviest first. */
export const HINDRANCES = [
  'against',
  'reading-off',
  'laid-differently',
  'disputed',
  'warning',
  'reading-missing',
  'step-missing',
  'to-know',
] as const;
export type HindranceKind = (typeof HINDRANCES)[number];

/** One thing between a surface and its covering, in words. */
export interface Hindrance {
  readonly kind: HindranceKind;
  readonly text: string;
  /** `Finding.key`, for findings. */
  readonly finding: string | null;
  readonly runs: readonly Id[];
}

/** "May I cover this?", for one surface. */
export interface CoverAnswer {
  readonly surface: CoverSurface;
  readonly name: string;
  /** Every run on, through or behind it. */
  readonly runs: readonly Run[];
  /** Every run of it is ticked covered already. */
  readonly covered: boolean;
  /** The heaviest first; empty when nothing recorded stands in the way, which is all that it says. */
  readonly inTheWay: readonly Hindrance[];
}

const OF_SEVERITY: Readonly<Record<Severity, HindranceKind>> = {
  error: 'against',
  disputed: 'disputed',
  warning: 'warning',
  note: 'to-know',
};

const STEPS = [
  ['pulled', 'not pulled'],
  ['tested', 'not dead-tested'],
  ['photographed', 'not photographed'],
  ['labelled', 'not labelled'],
] as const;

/**
 * One answer for each wall surface, ceiling and floor of every room, and for whatever else a run belongs to, so that
 * every run is in some answer. In the way: open findings of each run and circuit there, or of the surface itself,
 * wherever they are filed (those whose key is in `accepted` do not count); readings missing or outside their band; a
 * run laid otherwise than drawn; steps not ticked. Says nothing about cables that are not in the plan.
 */
export function coverAnswers(
  doc: PlanDocument,
  derived: Derived,
  accepted: ReadonlySet<string>,
): CoverAnswer[] {
  const held = surfacesWithRuns(doc, derived);
  const readings = coverReadings(doc, derived);
  const open = derived.findings.filter((f) => !accepted.has(f.key));
  return [...held.values()].map(({ surface, runs }) => ({
    surface,
    name: surfaceName(doc, derived, surface),
    runs,
    covered: runs.length > 0 && runs.every((run) => run.progress.covered !== null),
    inTheWay: inOrder([
      ...findingsOf(doc, derived, surface, runs, open),
      ...readingsOf(runs, readings),
      ...stepsOf(runs),
    ]),
  }));
}

interface Held {
  readonly surface: CoverSurface;
  readonly runs: Run[];
}

function surfacesWithRuns(doc: PlanDocument, derived: Derived): ReadonlyMap<string, Held> {
  const held = new Map<string, Held>();
  const of = (surface: CoverSurface): Held => {
    const known = held.get(surface.key) ?? { surface, runs: [] };
    held.set(surface.key, known);
    return known;
  };
  for (const storey of doc.storeys.order) {
    const fabric = derived.fabrics.get(storey);
    for (const room of fabric?.rooms.values() ?? []) {
      for (const id of [...room.faces, ...room.islands.flat()]) {
        const face = fabric?.faces.get(id);
        if (face !== undefined) of(faceSurface(storey, face));
      }
      of(voidSurface('ceiling', storey, room.id));
      of(voidSurface('floor', storey, room.id));
    }
  }
  for (const run of rows(doc.runs)) for (const s of surfacesOfRun(doc, derived, run)) of(s).runs.push(run);
  return held;
}

/** Open findings about the surface, its runs and points, or the circuits of those. */
function findingsOf(
  doc: PlanDocument,
  derived: Derived,
  surface: CoverSurface,
  runs: readonly Run[],
  open: readonly Finding[],
): Hindrance[] {
  const runIds = new Set(runs.map((run) => run.id));
  const circuits = new Set(runs.flatMap((run) => run.circuit ?? []));
  const ends = new Set(runs.flatMap((run) => [run.from, run.to]));
  const concerns = (f: Finding): boolean =>
    (f.run !== null && runIds.has(f.run)) ||
    (f.circuit !== null && circuits.has(f.circuit)) ||
    (f.point !== null && (ends.has(f.point) || circuits.has(find(doc, 'points', f.point)?.circuit ?? ''))) ||
    isOn(doc, derived, surface, f);
  return open.filter(concerns).map((f) => ({
    kind: OF_SEVERITY[f.severity],
    text: f.message,
    finding: f.key,
    runs: f.run === null ? [] : [f.run],
  }));
}

/** The finding's own place is on the surface; for a ceiling or floor, in its room and on no wall. */
function isOn(doc: PlanDocument, derived: Derived, surface: CoverSurface, { at, point }: Finding): boolean {
  const place = find(doc, 'points', point)?.place;
  if (surface.kind === 'face') {
    const face =
      at?.face ?? (place === undefined ? null : (spotOf(doc, derived.fabrics, place)?.face ?? null));
    return face !== null && face === surface.face;
  }
  if (at === null || at.face !== null || at.plan === null || at.storey !== surface.storey) return false;
  if (place !== undefined && place.on !== surface.kind) return false;
  const room = derived.fabrics.get(surface.storey)?.rooms.get(surface.room ?? '');
  return room !== undefined && roomHolds(room, at.plan);
}

function readingsOf(runs: readonly Run[], readings: (run: Run) => RunReadings): Hindrance[] {
  return runs.flatMap((run) => {
    const { off, missing } = readings(run);
    const told = off.map((text) => hindrance('reading-off', `${run.label}, ${text}`, [run]));
    return missing.length === 0
      ? told
      : [
          ...told,
          hindrance('reading-missing', `${run.label} has no reading before boarding of ${list(missing)}`, [
            run,
          ]),
        ];
  });
}

function stepsOf(runs: readonly Run[]): Hindrance[] {
  const lacking = (kind: HindranceKind, some: readonly Run[], words: string): Hindrance[] =>
    some.length === 0 ? [] : [hindrance(kind, `${some.map((run) => run.label).join(', ')} ${words}`, some)];
  return [
    ...runs
      .filter((run) => run.asLaid.state === 'differently')
      .map((run) =>
        hindrance(
          'laid-differently',
          `${run.label} is laid differently${run.asLaid.note === '' ? '' : ` (${run.asLaid.note})`}: draw it as it lies, then record it as drawn`,
          [run],
        ),
      ),
    ...STEPS.flatMap(([step, words]) =>
      lacking(
        'step-missing',
        runs.filter((run) => run.progress[step] === null),
        words,
      ),
    ),
    ...lacking(
      'step-missing',
      runs.filter((run) => run.asLaid.state === 'not-recorded'),
      'not recorded as laid',
    ),
  ];
}

const hindrance = (kind: HindranceKind, text: string, runs: readonly Run[]): Hindrance => ({
  kind,
  text,
  finding: null,
  runs: runs.map((run) => run.id),
});

const inOrder = (all: readonly Hindrance[]): Hindrance[] =>
  HINDRANCES.flatMap((kind) => all.filter((each) => each.kind === kind));

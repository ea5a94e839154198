import type { Id, PlanDocument } from '../model/document.ts';
import { POINT_KINDS } from '../model/pointKinds.ts';
import { find, rows } from '../model/tables.ts';
import type { Mm } from '../model/units.ts';
import { accessoriesOf, briefly } from './accessories.ts';
import { CLIPS_SOURCE, clipSpacing, countClips } from './clips.ts';
import { STUD_CENTRES } from './straights.ts';
import { COUNTED, type RunLength, type Straight, type Sundry } from './types.ts';
import { remembered } from '../model/evidence.ts';

const PRACTICE = remembered('Common practice');
/** What is drilled, by where a straight lies. */
const THROUGH: Readonly<Record<Straight['where'], string>> = {
  wall: `in studs, taken at ${STUD_CENTRES} mm centres`,
  void: 'in joists square to the run, by their centres',
  riser: 'in plates at the end of the studs',
  through: 'through walls',
  loose: 'elsewhere',
};
const metres = (mm: Mm) => `${(mm / 1000).toFixed(3)} m`;

function sundry(
  key: string,
  what: string,
  count: number,
  working: string,
  source: Sundry['source'],
  subjects: { readonly runs?: readonly Id[]; readonly points?: readonly Id[] },
): Sundry[] {
  if (count === 0) return [];
  return [{ key, what, count, working, source, runs: subjects.runs ?? [], points: subjects.points ?? [] }];
}

/** Clips for each cable, by Table D1 and how each straight lies. */
function clips(doc: PlanDocument, lengths: readonly RunLength[]): Sundry[] {
  return rows(doc.cables).flatMap((cable) => {
    const own = lengths.filter((l) => l.cable === cable.id);
    const spacing = clipSpacing(cable.width);
    const held = own.filter((l) => l.straights.some((s) => s.clipped));
    if (spacing === null) return [];
    const count = countClips(held, spacing);
    return sundry(
      `clips.${cable.id}`,
      `Clips for ${cable.name} (${cable.width} mm wide)`,
      count.horizontal + count.vertical,
      `${metres(count.horizontalMm)} level, one each ${spacing.horizontal} mm of each straight: ${count.horizontal}; ` +
        `${metres(count.verticalMm)} plumb, one each ${spacing.vertical} mm: ${count.vertical}. ` +
        'None in conduit or through holes.',
      CLIPS_SOURCE,
      { runs: held.map((l) => l.run) },
    );
  });
}

function boxes(doc: PlanDocument): Sundry[] {
  const points = rows(doc.points);
  const listed = rows(doc.boxes).flatMap((box) => {
    const own = points.filter((p) => p.box?.box === box.id);
    const working = briefly(own.map((p) => p.label));
    return sundry(`box.${box.id}`, box.name, own.length, working, COUNTED, { points: own.map((p) => p.id) });
  });
  const without = points.filter((p) => p.box === null && POINT_KINDS[p.kind].boxed);
  const open = sundry(
    'box.none',
    'Boxes not chosen yet',
    without.length,
    briefly(without.map((p) => p.label)),
    COUNTED,
    { points: without.map((p) => p.id) },
  );
  return [...listed, ...open];
}

/** Cable ends at each point. */
function endsByPoint(doc: PlanDocument): ReadonlyMap<Id, number> {
  const ends = new Map<Id, number>();
  for (const run of rows(doc.runs)) {
    for (const end of [run.from, run.to]) if (end !== null) ends.set(end, (ends.get(end) ?? 0) + 1);
  }
  return ends;
}

function grommets(doc: PlanDocument, lengths: readonly RunLength[]): Sundry[] {
  const ends = endsByPoint(doc);
  const entries = rows(doc.points)
    .filter((p) => find(doc, 'boxes', p.box?.box ?? null)?.mount === 'metal')
    .map((point) => ({ point, ends: ends.get(point.id) ?? 0 }))
    .filter((entry) => entry.ends > 0);
  const drilled = lengths.filter((l) => l.throughMetal > 0);
  return [
    ...sundry(
      'grommets.boxes',
      'Grommets for metal boxes',
      entries.reduce((sum, e) => sum + e.ends, 0),
      `One each cable end in a metal box: ${briefly(entries.map((e) => `${e.point.label} ${e.ends}`))}`,
      PRACTICE,
      { points: entries.map((e) => e.point.id) },
    ),
    ...sundry(
      'grommets.studs',
      'Grommets for holes in metal studs',
      drilled.reduce((sum, l) => sum + l.throughMetal, 0),
      holesWorking(doc, drilled, (s) => s.metalHoles),
      PRACTICE,
      { runs: drilled.map((l) => l.run) },
    ),
  ];
}

/** How many runs a working names one by one before it sums up the rest. */
const NAMED = 12;

/** Holes by what they go through, then by run: the largest first, the rest summed up, so that the line stays short. */
function holesWorking(
  doc: PlanDocument,
  lengths: readonly RunLength[],
  holes: (s: Straight) => number,
): string {
  const by = new Map<string, number>();
  for (const s of lengths.flatMap((l) => l.straights)) {
    if (holes(s) > 0) by.set(THROUGH[s.where], (by.get(THROUGH[s.where]) ?? 0) + holes(s));
  }
  const runs = lengths
    .map((l) => ({
      label: find(doc, 'runs', l.run)?.label ?? l.run,
      count: l.straights.reduce((sum, s) => sum + holes(s), 0),
    }))
    .sort((a, b) => b.count - a.count);
  const rest = runs.slice(NAMED);
  const named = runs.slice(0, NAMED).map((r) => `${r.label} ${r.count}`);
  if (rest.length > 0)
    named.push(`${rest.length} more runs ${rest.reduce((sum, r) => sum + r.count, 0)} together`);
  const sum = [...by].map(([what, count]) => `${count} ${what}`).join(', ');
  return `${sum}. By run: ${named.join(', ')}`;
}

function holes(doc: PlanDocument, lengths: readonly RunLength[]): Sundry[] {
  const timber = lengths.filter((l) => l.throughTimber > 0);
  const masonry = lengths.filter((l) => l.straights.some((s) => s.masonryHoles > 0));
  return [
    ...sundry(
      'holes.timber',
      'Holes to drill in timber',
      timber.reduce((sum, l) => sum + l.throughTimber, 0),
      holesWorking(doc, timber, (s) => s.timberHoles),
      remembered('Common practice: one hole each cable; cables may share a hole'),
      { runs: timber.map((l) => l.run) },
    ),
    ...sundry(
      'holes.masonry',
      'Holes to drill through masonry',
      masonry.reduce((sum, l) => sum + l.straights.reduce((n, s) => n + s.masonryHoles, 0), 0),
      holesWorking(doc, masonry, (s) => s.masonryHoles),
      COUNTED,
      { runs: masonry.map((l) => l.run) },
    ),
  ];
}

/** Metres of wall run that lie in plaster or a chase, whole metres up. Capping is no mechanical protection. */
function capping(doc: PlanDocument, lengths: readonly RunLength[]): Sundry[] {
  const covers = (l: RunLength, s: Straight): boolean =>
    s.held === 'buried' || (s.masonry && find(doc, 'runs', l.run)?.protection === 'capping');
  const buried = lengths.filter((l) => l.straights.some((s) => covers(l, s)));
  const length = buried
    .flatMap((l) => l.straights.filter((s) => covers(l, s)))
    .reduce((sum, straight) => sum + straight.length, 0);
  return sundry(
    'capping',
    'Capping, metres (optional; it is not mechanical protection)',
    Math.ceil((length - 1e-6) / 1000),
    `${metres(length)} of cable in plaster or in a chase`,
    PRACTICE,
    { runs: buried.map((l) => l.run) },
  );
}

/**
 * What else to buy or drill, each with its working and source. Counts that need metres (clips, holes, capping) come
 * from `lengths`; give none where metres are refused, and only what is counted on the plan is listed.
 */
export function sundriesOf(doc: PlanDocument, lengths: readonly RunLength[]): Sundry[] {
  const runs = rows(doc.runs);
  return [
    ...clips(doc, lengths),
    ...boxes(doc),
    ...accessoriesOf(doc),
    ...grommets(doc, lengths),
    ...holes(doc, lengths),
    ...capping(doc, lengths),
    ...sundry(
      'labels',
      'Cable labels',
      2 * runs.length,
      `One at each end of ${runs.length} ${runs.length === 1 ? 'run' : 'runs'}`,
      PRACTICE,
      { runs: runs.map((r) => r.id) },
    ),
  ];
}

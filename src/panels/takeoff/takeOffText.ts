import type { Derived } from '../../engine/derive/types.ts';
import type { PlanDocument } from '../../engine/model/document.ts';
import { briefly } from '../../engine/takeoff/accessories.ts';
import { gapsLine, takeOffGaps } from '../../engine/site/gaps.ts';
import type { DrumPlan } from '../../engine/takeoff/types.ts';
import { neutralText, type CsvCell } from '../../io/csv.ts';
import { openFindings } from '../findings/findings.ts';

const m = (mm: number): number => Math.round(mm / 10) / 100;

export type TakeOffParts = Pick<Derived, 'takeOff' | 'drums' | 'findings'>;

/** One part of the list: its head and rows, and how many places its numbers have in plain text; null for as they are. */
export interface TakeOffSection {
  readonly head: readonly CsvCell[];
  readonly rows: readonly (readonly CsvCell[])[];
  readonly places: number | null;
}

/** What must be read first: why metres are refused, or what is still missing; null when there is nothing to say. */
export function takeOffWarning(doc: PlanDocument, parts: TakeOffParts): string | null {
  const { scale } = parts.takeOff;
  if (scale.state === 'refused') return `Metres refused: ${scale.why}`;
  return gapsLine(takeOffGaps(openFindings(parts.findings, doc)));
}

/** Drums of one length, to buy or already owned, with the runs cut from them. */
function drumRows(doc: PlanDocument, plan: DrumPlan): CsvCell[][] {
  const name = doc.cables.byId[plan.cable]?.name ?? plan.cable;
  const label = (run: string): string => doc.runs.byId[run]?.label ?? run;
  const kinds = new Map<string, DrumPlan['drums'][number][]>();
  for (const drum of plan.drums) {
    const key = `${drum.owned} ${drum.length}`;
    kinds.set(key, [...(kinds.get(key) ?? []), drum]);
  }
  const listed = [...kinds.values()].map((drums): CsvCell[] => [
    `${name}${drums[0]?.owned ? ' (you have it: do not buy)' : ''}`,
    drums[0]?.length ?? 0,
    drums.length,
    `For ${briefly(drums.flatMap((d) => d.cuts.map((c) => label(c.run))))}; left over ${drums
      .map((d) => `${(d.left / 1000).toFixed(2)} m`)
      .join(', ')}`,
  ]);
  return plan.tooLong.length === 0
    ? listed
    : [...listed, [name, null, null, `${briefly(plan.tooLong.map(label))}: longer than any drum on sale`]];
}

/** The take-off part by part: metres per cable to the centimetre, the drums to buy, then everything else. */
export function takeOffSections(doc: PlanDocument, { takeOff, drums }: TakeOffParts): TakeOffSection[] {
  const cables: TakeOffSection = {
    head: ['Cable', 'Run m', 'Rise and drop m', 'Through m', 'Tails m', 'Allowance m', 'Needed m', '± m'],
    rows: takeOff.cables.map((each) => [
      each.name,
      m(each.runMm),
      m(each.riseDropMm),
      m(each.throughMm),
      m(each.tailsMm),
      m(each.allowanceMm),
      m(each.orderMm),
      m(each.errorMm),
    ]),
    places: 2,
  };
  const toBuy: TakeOffSection = {
    head: ['Drums to buy', 'Length m', 'Count', 'Working'],
    rows: drums.flatMap((plan) => drumRows(doc, plan)),
    places: null,
  };
  const sundries: TakeOffSection = {
    head: ['Also', 'Count', 'Working'],
    rows: takeOff.sundries.map((each) => [each.what, each.count, each.working]),
    places: null,
  };
  return [cables, toBuy, sundries].filter((section) => section.rows.length > 0);
}

/** The take-off as rows of cells, what must be read first before anything else. */
export function takeOffRows(doc: PlanDocument, parts: TakeOffParts): CsvCell[][] {
  const warning = takeOffWarning(doc, parts);
  const top: CsvCell[][] = [...(warning === null ? [] : [[warning]]), [`Take-off: ${doc.job.title}`]];
  if (parts.takeOff.scale.state === 'refused') return top;
  return [
    ...top,
    ...takeOffSections(doc, parts).flatMap(({ head, rows }) => [[...head], ...rows.map((r) => [...r])]),
  ];
}

/** The same as tab-separated lines, for pasting into a letter or a sheet, which must not run what it is given. */
export function takeOffText(doc: PlanDocument, parts: TakeOffParts): string {
  const clean = (text: string): string => neutralText(text.replaceAll(/[\t\r\n]+/g, ' '));
  const line = (cells: readonly CsvCell[], places: number | null): string =>
    cells
      .map((each) =>
        typeof each === 'number'
          ? places === null
            ? String(each)
            : each.toFixed(places)
          : clean(each ?? ''),
      )
      .join('\t');
  const warning = takeOffWarning(doc, parts);
  const lines = [...(warning === null ? [] : [clean(warning)]), clean(`Take-off: ${doc.job.title}`)];
  if (parts.takeOff.scale.state !== 'refused') {
    for (const { head, rows, places } of takeOffSections(doc, parts))
      lines.push('', line(head, null), ...rows.map((row) => line(row, places)));
  }
  return `${lines.join('\n')}\n`;
}

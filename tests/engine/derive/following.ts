import fc from 'fast-check';
import {
  applyDelta,
  emptyView,
  sumsOnly,
  wholeDelta,
  type DerivedView,
} from '../../../src/engine/derive/delta.ts';
import { deriveAll } from '../../../src/engine/derive/deriveAll.ts';
import { deriveChange } from '../../../src/engine/derive/deriveChange.ts';
import type { DerivedIndex } from '../../../src/engine/derive/derivedIndex.ts';
import { same } from '../../../src/engine/memo/same.ts';
import type { PlanDocument } from '../../../src/engine/model/document.ts';
import { seeded } from '../../random.ts';
import { MENU, mergeTouched, randomEdit, randomPlan, type Edit } from './randomPlan.ts';

/** What of two indexes differs first, for the message; null when they hold the same. */
export function difference(a: DerivedIndex, b: DerivedIndex): string | null {
  for (const part of Object.keys(a.parts) as (keyof DerivedIndex['parts'])[]) {
    if (part === 'doc') continue;
    const [x, y] = [
      new Map(a.parts[part] as Map<string, unknown>),
      new Map(b.parts[part] as Map<string, unknown>),
    ];
    for (const key of new Set([...x.keys(), ...y.keys()])) {
      const [p, q] = [x.get(key), y.get(key)];
      if (!same(p, q)) return `${part} ${key}: ${JSON.stringify(p)} against ${JSON.stringify(q)}`;
    }
  }
  if (!same(a.findings, b.findings)) return 'the order of findings';
  return same(a.takeOff, b.takeOff) ? null : 'the take-off';
}

function viewDifference(view: DerivedView, index: DerivedIndex): string | null {
  for (const part of ['fabrics', 'zones', 'runs', 'buckets'] as const) {
    if (!same(new Map<string, unknown>(view[part]), new Map<string, unknown>(index.parts[part]))) return part;
  }
  return same(view.findings, index.findings) ? null : 'findings';
}

/** As a worker's message would arrive. */
const posted = <T>(data: T): T => structuredClone(data);

function fail(what: string, told: readonly string[]): never {
  throw new Error(`${what}\nafter ${told.join(', ')}`);
}

/** An index that follows its plan, and a page that follows its deltas. */
export class Following {
  doc: PlanDocument;
  private index: DerivedIndex;
  private view: DerivedView | null = null;
  private readonly told: string[] = [];

  constructor(doc: PlanDocument) {
    this.doc = doc;
    this.index = deriveAll(doc);
  }

  /** The page, as far as it has been told. */
  private page(): DerivedView {
    return this.view ?? applyDelta(emptyView(), posted(wholeDelta(this.index)));
  }

  /** Goes on to another plan, and compares nothing yet. */
  quietly({ doc, touched, what }: Edit): void {
    this.told.push(what);
    this.doc = doc;
    this.index = deriveChange(this.index, doc, touched).next;
  }

  /** Throws when anything differs from what is derived from nothing. */
  compare(): void {
    const differs = difference(this.index, deriveAll(this.doc));
    if (differs !== null) fail(differs, this.told);
  }

  /** Goes on to another plan and throws when anything differs, there or on the page. */
  follow({ doc, touched, what }: Edit): void {
    this.told.push(what);
    this.doc = doc;
    const before = this.index;
    const page = this.page();
    const kept = structuredClone({ runs: new Map(before.runs), findings: before.findings });
    const { next, delta } = deriveChange(before, doc, touched);
    this.index = next;
    this.compare();
    // What was derived before stays as it was: an undo or a slow reader may still hold it.
    if (!same(kept, { runs: new Map(before.runs), findings: before.findings }))
      fail('what was derived before has changed', this.told);
    this.view = applyDelta(page, posted(delta));
    const behind = viewDifference(this.view, next);
    if (behind !== null) fail(`the page is behind: ${behind}`, this.told);
  }

  /** The sums, which are asked for when no change waits. */
  end(): void {
    const view = applyDelta(this.page(), posted(sumsOnly(this.index)));
    if (!same(view.takeOff, this.index.takeOff)) fail('the page has another take-off', this.told);
  }
}

/** Edits of a menu one after the other, some of them two at once; `follow` takes each. */
export function edited(
  start: PlanDocument,
  edits: readonly (readonly [seed: number, twice: boolean])[],
  menu: typeof MENU,
  follow: (edit: Edit) => void,
): void {
  let doc = start;
  edits.forEach(([seed, twice], i) => {
    const random = seeded(seed);
    const first = randomEdit(doc, random, `a${i}`, menu);
    if (first === null) return;
    const second = twice ? randomEdit(first.doc, random, `b${i}`, menu) : null;
    doc = (second ?? first).doc;
    follow(
      second === null
        ? first
        : {
            doc,
            touched: mergeTouched(first.touched, second.touched),
            what: `${first.what} with ${second.what}`,
          },
    );
  });
}

const anySeed = fc.integer({ min: 0, max: 2 ** 31 - 1 });

/** Any plan and any edits: after each, what followed equals what is derived from nothing. */
export function sequences(menu = MENU) {
  return fc.property(
    anySeed,
    fc.array(fc.tuple(anySeed, fc.boolean()), { minLength: 1, maxLength: 12 }),
    (planSeed, edits) => {
      const following = new Following(randomPlan(seeded(planSeed)));
      edited(following.doc, edits, menu, (edit) => following.follow(edit));
      following.end();
    },
  );
}

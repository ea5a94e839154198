import type { TextLook } from './marks.ts';
import type { Px } from '../../engine/model/units.ts';

/** A box of the screen taken by words, CSS pixels. */
export interface WordBox {
  readonly x: Px;
  readonly y: Px;
  readonly width: Px;
  readonly height: Px;
}

/** Words that want a place: the first of `boxes` that is free is taken; `must` ones take their first even if none is. */
export interface WordWish {
  readonly look: TextLook;
  readonly boxes: readonly WordBox[];
}

/** What must be read comes first: how far out, then points, then lengths; reasons and ghosts give way. */
const RANK: Readonly<Record<TextLook, number>> = {
  caption: 0,
  out: 0,
  disputed: 0,
  dimension: 0,
  point: 1,
  length: 2,
  small: 3,
  zone: 4,
  'zone-disputed': 4,
  ghost: 5,
};
const MUST: ReadonlySet<TextLook> = new Set(['caption', 'out', 'disputed', 'point']);

const meet = (a: WordBox, b: WordBox): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

/**
 * Which of its boxes each wish gets so that no two words overlap; null for words that are left out. Words that must be
 * read are never left out: with no free box they take their first. `before` is taken already. Order of the answers is
 * that of the wishes.
 */
export function placeWords(wishes: readonly WordWish[], before: readonly WordBox[] = []): (number | null)[] {
  const taken: WordBox[] = [...before];
  const answers: (number | null)[] = wishes.map(() => null);
  const order = wishes.map((_, i) => i).sort((a, b) => rank(wishes[a]) - rank(wishes[b]) || a - b);
  for (const i of order) {
    const wish = wishes[i] as WordWish;
    const free = wish.boxes.findIndex((box) => !taken.some((t) => meet(t, box)));
    const choice = free >= 0 ? free : MUST.has(wish.look) && wish.boxes.length > 0 ? 0 : null;
    answers[i] = choice;
    if (choice !== null) taken.push(wish.boxes[choice] as WordBox);
  }
  return answers;
}

const rank = (wish: WordWish | undefined): number => (wish ? RANK[wish.look] : 9);

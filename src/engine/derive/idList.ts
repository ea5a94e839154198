import type { Id } from '../model/document.ts';

/** Ids in the order people count in: p2 before p10. Does not depend on any table's order. */
export function compareIds(a: Id, b: Id): number {
  return a.length - b.length || (a < b ? -1 : a > b ? 1 : 0);
}

/** The list with an id put in at its place; the same list when it is there already. */
export function withId(list: readonly Id[], id: Id): readonly Id[] {
  if (list.includes(id)) return list;
  const at = list.findIndex((x) => compareIds(x, id) > 0);
  return at < 0 ? [...list, id] : [...list.slice(0, at), id, ...list.slice(at)];
}

/** Lists by key from pairs, each in the order of ids. */
export function listsOf(pairs: Iterable<readonly [string, Id]>): Map<string, readonly Id[]> {
  const lists = new Map<string, Id[]>();
  for (const [key, id] of pairs) {
    const list = lists.get(key);
    if (list === undefined) lists.set(key, [id]);
    else list.push(id);
  }
  for (const [key, list] of lists) {
    list.sort(compareIds);
    lists.set(key, [...new Set(list)]);
  }
  return lists;
}

/** Up to so many are kept in a list: most values have few readers, and a set costs ten times as much. */
const FEW = 8;

/** Who reads a value. */
export class Readers<T> {
  private held: T[] | Set<T> | null = null;

  get none(): boolean {
    return this.held === null;
  }

  /** A reader that is not among them yet. */
  add(reader: T): void {
    const { held } = this;
    if (held === null) this.held = [reader];
    else if (held instanceof Set) held.add(reader);
    else if (held.push(reader) > FEW) this.held = new Set(held);
  }

  delete(reader: T): void {
    const { held } = this;
    if (held instanceof Set) held.delete(reader);
    else if (held !== null) {
      const at = held.indexOf(reader);
      if (at >= 0) held.splice(at, 1);
    }
    if (held !== null && (held instanceof Set ? held.size : held.length) === 0) this.held = null;
  }

  each(visit: (reader: T) => void): void {
    this.held?.forEach(visit);
  }
}

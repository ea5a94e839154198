/** A record of plain JSON, of which nothing is believed yet. */
export type Plain = Readonly<Record<string, unknown>>;

/** A pure step from one version of the file to the next: plain JSON in, plain JSON out, the given value untouched. */
export type Migration = (file: Plain) => Plain;

/** The value as a record, or null where it is none. */
export function asPlain(value: unknown): Plain | null {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Plain) : null;
}

/** The file with each record of a table changed. What is no table or no record stays, for the reader to refuse. */
export function eachRecord(file: Plain, table: string, change: (record: Plain) => Plain): Plain {
  const whole = asPlain(file[table]);
  const byId = asPlain(whole?.['byId']);
  if (whole === null || byId === null) return file;
  const changed = Object.entries(byId).map(([id, value]): [string, unknown] => {
    const record = asPlain(value);
    return [id, record === null ? value : change(record)];
  });
  return { ...file, [table]: { ...whole, byId: Object.fromEntries(changed) } };
}

/** The file with a key renamed; nothing happens where the old one is missing or the new one is taken. */
export function renamed(file: Plain, from: string, to: string): Plain {
  if (!Object.hasOwn(file, from) || Object.hasOwn(file, to)) return file;
  const { [from]: value, ...rest } = file;
  return { ...rest, [to]: value };
}

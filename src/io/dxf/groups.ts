/** One group of the file: a code, and the value on the line below it, trimmed. */
export interface Group {
  readonly code: number;
  readonly value: string;
}

/** A record of the file: all groups from one code 0 to the next. */
export interface DxfRecord {
  readonly type: string;
  readonly groups: readonly Group[];
}

/**
 * The records of a DXF text, section by section. A file that was cut ends with its last whole record: the record at hand
 * when the lines run out, or when a code is no whole number, is not given unless `EOF` or `ENDSEC` closed it.
 */
export function* recordsOf(
  text: string,
): Generator<{ readonly section: string; readonly record: DxfRecord }> {
  let section = '';
  let type: string | null = null;
  let groups: Group[] = [];
  let at = 0;
  const line = (): string | null => {
    if (at >= text.length) return null;
    const end = text.indexOf('\n', at);
    const stop = end < 0 ? text.length : end;
    const value = text.slice(at, stop).trim();
    at = stop + 1;
    return value;
  };
  for (;;) {
    const codeText = line();
    if (codeText === null) return;
    if (codeText === '' && at >= text.length) return;
    const value = line();
    if (value === null || !/^\d{1,4}$/.test(codeText)) return;
    const code = Number(codeText);
    if (code === 999) continue;
    if (code !== 0) {
      if (type === 'SECTION' && groups.length === 0) section = value.toUpperCase();
      groups.push({ code, value });
      continue;
    }
    if (type !== null && type !== 'SECTION' && type !== 'ENDSEC') yield { section, record: { type, groups } };
    // The header's variables stand in its SECTION record itself.
    if (type === 'SECTION' && groups.length > 1) yield { section, record: { type, groups: groups.slice(1) } };
    if (value.toUpperCase() === 'EOF') return;
    if (value.toUpperCase() === 'ENDSEC') section = '';
    type = value.toUpperCase();
    groups = [];
  }
}

/** The first value of a code in a record. */
export function valueOf(record: DxfRecord, code: number): string | undefined {
  return record.groups.find((g) => g.code === code)?.value;
}

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;

/** A finite number of a group's value; null for anything else, hexadecimal and "1e400" too. */
export function numberOf(value: string | undefined): number | null {
  if (value === undefined || !NUMBER.test(value)) return null;
  const n = Number(value);
  return Number.isFinite(n) ? n : null;
}

/** JSON as the file format writes it. */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

/**
 * Canonical text of plain data: keys sorted by code unit, two spaces of indent, LF, a final newline, -0 written as 0, lone
 * surrogates replaced. Empty lists and records are `[]` and `{}`. Throws on anything JSON cannot hold (a number that is
 * not finite, undefined, a function): that is a broken document, not bad input.
 */
export function canonicalJson(value: unknown): string {
  const out: string[] = [];
  write(value, '', out);
  out.push('\n');
  return out.join('');
}

function write(value: unknown, indent: string, out: string[]): void {
  if (value === null || typeof value === 'boolean') out.push(String(value));
  else if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new Error('a number of the document is not finite');
    out.push(JSON.stringify(value === 0 ? 0 : value));
  } else if (typeof value === 'string') out.push(JSON.stringify(wellFormed(value)));
  else if (Array.isArray(value)) writeList(value, indent, out);
  else if (typeof value === 'object') writeRecord(value as Record<string, unknown>, indent, out);
  else throw new Error(`a value of the document is ${typeof value}`);
}

function writeList(list: readonly unknown[], indent: string, out: string[]): void {
  if (list.length === 0) return void out.push('[]');
  const inner = `${indent}  `;
  list.forEach((each, i) => {
    out.push(i === 0 ? '[\n' : ',\n', inner);
    write(each, inner, out);
  });
  out.push('\n', indent, ']');
}

function writeRecord(record: Readonly<Record<string, unknown>>, indent: string, out: string[]): void {
  const keys = Object.keys(record).sort();
  if (keys.length === 0) return void out.push('{}');
  const inner = `${indent}  `;
  keys.forEach((key, i) => {
    out.push(i === 0 ? '{\n' : ',\n', inner, JSON.stringify(key), ': ');
    write(record[key], inner, out);
  });
  out.push('\n', indent, '}');
}

/** Text with each lone surrogate replaced by U+FFFD, so that it survives UTF-8. */
export function wellFormed(text: string): string {
  return text.replace(/[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g, '\uFFFD');
}

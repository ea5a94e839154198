import type { FileProblem } from '../types.ts';

/** Deeper nesting than this is refused before the text is parsed. */
export const DEEPEST = 64;

const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;
const SPACE = /[ \t\r\n]*/y;
const LITERAL = /true|false|null/y;

/**
 * Reads through JSON text without building anything: tells the first broken spot by its line, nesting deeper than
 * `DEEPEST`, and a key given twice in one record (a plain parser would silently keep the last). Null when it is sound.
 */
export function scanJson(text: string): FileProblem | null {
  return new Scan(text).run();
}

interface Level {
  /** Keys so far, for a record; null for a list. */
  readonly keys: Set<string> | null;
  readonly path: string;
  key: string | number;
}

class Scan {
  private at = 0;
  private readonly stack: Level[] = [];

  constructor(private readonly text: string) {}

  run(): FileProblem | null {
    this.space();
    if (this.at >= this.text.length) return this.broken('the file is empty');
    for (let wantValue = true; ;) {
      if (wantValue) {
        const opened = this.value();
        if (typeof opened === 'object' && opened !== null) return opened;
        if (opened === 'open') continue;
      }
      this.space();
      const level = this.stack.at(-1);
      if (!level)
        return this.at < this.text.length
          ? this.broken('there is more text after the end of the plan')
          : null;
      const c = this.text[this.at];
      if (c === ',') {
        this.at++;
        this.space();
        const wrong = level.keys ? this.key(level) : this.item(level);
        if (wrong) return wrong;
        wantValue = true;
      } else if (c === (level.keys ? '}' : ']')) {
        this.at++;
        this.stack.pop();
        wantValue = false;
      } else if (c === undefined) return this.broken('the file ends too early');
      else return this.broken(level.keys ? 'a comma or } is missing' : 'a comma or ] is missing');
    }
  }

  /** Steps over a value, or into a list or record that is not empty ('open'). */
  private value(): FileProblem | 'open' | null {
    this.space();
    const c = this.text[this.at];
    if (c === '{' || c === '[') {
      if (this.stack.length >= DEEPEST) return this.broken(`it is nested deeper than ${DEEPEST} levels`);
      this.at++;
      this.space();
      if (this.text[this.at] === (c === '{' ? '}' : ']')) {
        this.at++;
        return null;
      }
      const level: Level = { keys: c === '{' ? new Set() : null, path: this.where(), key: 0 };
      this.stack.push(level);
      return (level.keys && this.key(level)) ?? 'open';
    }
    if (c === '"') {
      return this.quoted() ? null : this.broken('a text is not closed or has a forbidden character');
    }
    const pattern = c === 't' || c === 'f' || c === 'n' ? LITERAL : NUMBER;
    if (this.take(pattern) !== null) return null;
    if (c === undefined) return this.broken('the file ends too early');
    return this.broken('this is not JSON');
  }

  private key(level: Level): FileProblem | null {
    const start = this.at;
    const raw = this.text[start] === '"' && this.quoted() ? this.text.slice(start, this.at) : null;
    if (raw === null)
      return this.broken(this.at >= this.text.length ? 'the file ends too early' : 'a key is expected');
    const key = raw.includes('\\') ? (JSON.parse(raw) as string) : raw.slice(1, -1);
    if (level.keys?.has(key)) {
      this.at = start;
      return this.broken(`the key "${key.slice(0, 80)}" is given twice`);
    }
    level.keys?.add(key);
    level.key = key;
    this.space();
    if (this.text[this.at] !== ':') return this.broken('a colon is missing after a key');
    this.at++;
    return null;
  }

  private item(level: Level): null {
    level.key = Number(level.key) + 1;
    return null;
  }

  private where(): string {
    const level = this.stack.at(-1);
    if (!level) return '';
    // The same path as the decoder tells: a record stands under its table, `byId` goes without saying.
    if (level.key === 'byId') return level.path;
    const step = typeof level.key === 'number' ? `[${level.key}]` : `.${level.key.slice(0, 80)}`;
    return (level.path + step).replace(/^\./, '');
  }

  /** Steps over a text in quotes; stops at its first wrong character. Character by character: it may be a picture. */
  private quoted(): boolean {
    for (this.at++; this.at < this.text.length; this.at++) {
      const c = this.text.charCodeAt(this.at);
      if (c === 0x22) {
        this.at++;
        return true;
      }
      if (c < 0x20) return false;
      if (c !== 0x5c) continue;
      if (this.take(ESCAPE) === null) return false;
      this.at--;
    }
    return false;
  }

  private take(pattern: RegExp): string | null {
    pattern.lastIndex = this.at;
    const match = pattern.exec(this.text);
    if (match === null) return null;
    this.at = pattern.lastIndex;
    return match[0];
  }

  private space(): void {
    this.take(SPACE);
  }

  private broken(message: string): FileProblem {
    let line = 1;
    for (let i = this.text.indexOf('\n'); i !== -1 && i < this.at; i = this.text.indexOf('\n', i + 1)) line++;
    return { path: this.where(), line, message };
  }
}

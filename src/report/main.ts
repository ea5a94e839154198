import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { answerFor, readOptions, type Answer } from './run.ts';

/** Reads the file from where the person stands: `npm run` itself moves to the project's folder. */
function readPlan(file: string): Uint8Array | string {
  try {
    return readFileSync(resolve(process.env['INIT_CWD'] ?? process.cwd(), file));
  } catch (error) {
    return `cannot be read (${(error as NodeJS.ErrnoException).code ?? 'unknown error'})`;
  }
}

function answer(args: readonly string[]): Answer {
  const options = readOptions(args);
  if ('error' in options) return { code: 2, out: '', err: `${options.error}\n` };
  const bytes = readPlan(options.file);
  if (typeof bytes === 'string') return { code: 2, out: '', err: `${options.file}: ${bytes}\n` };
  return answerFor(options, bytes);
}

const { code, out, err } = answer(process.argv.slice(2));
process.stdout.write(out);
process.stderr.write(err);
process.exitCode = code;

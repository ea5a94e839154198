import { asPlain, eachRecord, type Plain } from './plain.ts';

/** A ceiling or floor whose joists, if it has any, name no chart of their maker. */
function unnoted(build: unknown): unknown {
  const plain = asPlain(build);
  const joists = asPlain(plain?.['joists']);
  return plain === null || joists === null ? build : { ...plain, joists: { ...joists, chart: '' } };
}

/** The maker's chart of joists: version 1 had nowhere to note it. */
export const joistChart = (file: Plain): Plain =>
  eachRecord(file, 'storeys', (storey) => ({
    ...storey,
    ceiling: unnoted(storey['ceiling']),
    floor: unnoted(storey['floor']),
  }));

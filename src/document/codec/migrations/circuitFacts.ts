import { asPlain, eachRecord, type Plain } from './plain.ts';

/** Version 1 named its own flat cables so, and rated every cable as one of them. */
const FLAT = /^[\d.]+ mm² (twin|three-core) and earth$/;

/** Cables by the table that rates them: those that still bear the name of a flat one, and no others. */
const rated = (file: Plain): Plain =>
  eachRecord(file, 'cables', (cable) => ({
    ...cable,
    ratedBy: typeof cable['name'] === 'string' && FLAT.test(cable['name']) ? '4D5' : null,
  }));

/** The earth electrode of a supply, what a load is, and the table a cable is rated by: all of them not said before. */
export function circuitFacts(file: Plain): Plain {
  const job = asPlain(file['job']);
  const supply = asPlain(job?.['supply']);
  const withSupply =
    job === null || supply === null
      ? file
      : { ...file, job: { ...job, supply: { ...supply, electrode: null } } };
  const withPoints = eachRecord(withSupply, 'points', (point) => ({ ...point, loadKind: null }));
  return rated(withPoints);
}

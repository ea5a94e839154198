export { seededRandom as seeded } from './samples/generate.ts';

/** A seed that differs every run, printed so that a failure can be had again; ZONEWRIGHT_SEED fixes it. */
export function freshSeed(name: string): number {
  const given = process.env.ZONEWRIGHT_SEED;
  const seed = given === undefined ? Math.floor(Math.random() * 2 ** 31) : Number(given);
  console.log(`${name}: ZONEWRIGHT_SEED=${seed}`);
  return seed;
}

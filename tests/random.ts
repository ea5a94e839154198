/** A seeded generator (mulberry32) for tests: the same seed gives the same numbers everywhere. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** A seed that differs every run, printed so that a failure can be had again; ZONEWRIGHT_SEED fixes it. */
export function freshSeed(name: string): number {
  const given = process.env.ZONEWRIGHT_SEED;
  const seed = given === undefined ? Math.floor(Math.random() * 2 ** 31) : Number(given);
  console.log(`${name}: ZONEWRIGHT_SEED=${seed}`);
  return seed;
}

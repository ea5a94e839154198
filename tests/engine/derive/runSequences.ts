// npm run sequences [count]: far more random sequences of edits than npm test has time for. Compares what followed
// with what is derived from nothing at the end of each and once on the way; a difference is told with its seed.
import { freshSeed, seeded } from '../../random.ts';
import { edited, Following } from './following.ts';
import { MENU, randomPlan } from './randomPlan.ts';

const count = Number(process.argv[2] ?? 10_000);
const seed = freshSeed(`${count} sequences of edits`);
const random = seeded(seed);
const any = (): number => Math.floor(random() * 2 ** 31);
let steps = 0;
let different = 0;
for (let n = 1; n <= count; n += 1) {
  const [plan, length] = [any(), 1 + Math.floor(random() * 12)];
  const edits = Array.from({ length }, () => [any(), random() < 0.5] as const);
  const halfway = Math.floor(random() * length);
  const following = new Following(randomPlan(seeded(plan)));
  try {
    let step = 0;
    edited(following.doc, edits, MENU, (edit) => {
      following.quietly(edit);
      steps += 1;
      if (step++ === halfway) following.compare();
    });
    following.compare();
  } catch (error) {
    different += 1;
    console.log(`sequence ${n} of ZONEWRIGHT_SEED=${seed}: ${error instanceof Error ? error.stack : error}`);
  }
  if (n % 500 === 0 || n === count) console.log(`${n} sequences, ${steps} edits: ${different} differences`);
}
process.exit(different === 0 ? 0 : 1);

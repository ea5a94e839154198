// npm test: install what is missing, then every check. The last line is "N passed, N failed".
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { ROOT, bin, build, installBrowser, installPackages } from './setup.mjs';

installPackages();
installBrowser();
const out = path.join(ROOT, 'test-results');
rmSync(out, { recursive: true, force: true });
mkdirSync(out, { recursive: true });

let passed = 0;
let failed = 0;
function check(name, code) {
  console.log(`${code === 0 ? 'ok  ' : 'FAIL'} ${name}`);
  if (code === 0) passed += 1;
  else failed += 1;
}

/** Adds the counts of a report; a runner that wrote none, or ran nothing, has failed. */
function count(name, file, read) {
  let counts = { passed: 0, failed: 0 };
  try {
    counts = read(JSON.parse(readFileSync(path.join(out, file), 'utf8')));
  } catch (error) {
    console.log(`FAIL ${name}: no report (${error.message})`);
  }
  if (counts.passed + counts.failed === 0) counts.failed = 1;
  passed += counts.passed;
  failed += counts.failed;
  console.log(
    `${counts.failed === 0 ? 'ok  ' : 'FAIL'} ${name}: ${counts.passed} passed, ${counts.failed} failed`,
  );
}

check('lint', bin('eslint', ['.']));
check('format', bin('prettier', ['--check', '--log-level', 'warn', '.']));
check('types', bin('tsc', ['--noEmit', '-p', 'tsconfig.json']));
check('types of the engine without the DOM', bin('tsc', ['--noEmit', '-p', 'src/engine/tsconfig.json']));

bin('vitest', ['run', '--reporter=default', '--reporter=json', '--outputFile.json=test-results/unit.json']);
count('unit tests', 'unit.json', (r) => ({
  passed: r.numPassedTests,
  failed:
    r.numFailedTests +
    r.testResults.filter((f) => f.status === 'failed' && f.assertionResults.length === 0).length,
}));

build({ always: true });
bin('playwright', ['test', '--reporter=list,json'], {
  env: { ...process.env, PLAYWRIGHT_JSON_OUTPUT_NAME: 'test-results/e2e.json' },
});
count('browser tests', 'e2e.json', (r) => ({
  passed: r.stats.expected,
  failed: r.stats.unexpected + r.stats.flaky + r.errors.length,
}));

const line = `${passed} passed, ${failed} failed`;
writeFileSync(path.join(out, 'summary.txt'), `${line}\n`);
console.log(line);
process.exit(failed === 0 ? 0 : 1);

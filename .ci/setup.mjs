// What a fresh machine lacks: the packages of the lock file, and a browser for the checks.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');

/** Runs a command in the project, showing its output; gives its exit code. */
export function run(command, args, options = {}) {
  const result = spawnSync(command, args, { cwd: ROOT, stdio: 'inherit', ...options });
  if (result.error) throw result.error;
  return result.status ?? 1;
}

/** A program of node_modules/.bin, started with this very Node. */
export function bin(name, args, options) {
  const link = path.join(ROOT, 'node_modules', '.bin', name);
  return run(process.platform === 'win32' ? `${link}.cmd` : link, args, {
    shell: process.platform === 'win32',
    ...options,
  });
}

function checkNode() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    console.error(`Zonewright needs Node 20.19 or newer; this is ${process.versions.node}.`);
    process.exit(1);
  }
}

/** Installs exactly what the lock file says, when it is not there or not of this lock file. */
export function installPackages() {
  checkNode();
  const lock = readFileSync(path.join(ROOT, 'package-lock.json'));
  const stamp = createHash('sha256').update(lock).digest('hex');
  const mark = path.join(ROOT, 'node_modules', '.installed-lock');
  if (existsSync(mark) && readFileSync(mark, 'utf8') === stamp) return;
  console.log('Installing packages ...');
  const code = run('npm', ['ci', '--ignore-scripts', '--no-audit', '--no-fund'], {
    shell: process.platform === 'win32',
  });
  if (code !== 0) process.exit(code);
  writeFileSync(mark, stamp);
}

const BROWSERS = [
  process.env.ZONEWRIGHT_CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** Path of a Chromium already present, or undefined. */
export function presentBrowser() {
  return BROWSERS.find((file) => file && existsSync(file));
}

/** A browser for the checks: one that is present, then Debian's package, then Playwright's own. */
export function installBrowser() {
  let found = presentBrowser();
  if (!found && existsSync('/usr/bin/apt-get') && process.getuid?.() === 0) {
    console.log("Installing Debian's Chromium ...");
    const quiet = { env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } };
    if (run('apt-get', ['update', '-qq'], quiet) === 0) {
      run('apt-get', ['install', '-y', '-qq', 'chromium', 'fonts-dejavu-core'], quiet);
    }
    found = presentBrowser();
  }
  if (found) {
    process.env.ZONEWRIGHT_CHROMIUM = found;
    return;
  }
  console.log("Installing Playwright's Chromium ...");
  if (bin('playwright', ['install', 'chromium']) !== 0) {
    console.error('No browser could be installed: set ZONEWRIGHT_CHROMIUM to a Chromium and try again.');
    process.exit(1);
  }
}

function newest(dir) {
  let time = 0;
  for (const entry of readdirSync(dir, { withFileTypes: true })) {
    const file = path.join(dir, entry.name);
    time = Math.max(time, entry.isDirectory() ? newest(file) : statSync(file).mtimeMs);
  }
  return time;
}

/** Builds the app when there is no build or the sources are newer. */
export function build({ always = false } = {}) {
  const page = path.join(ROOT, 'dist', 'index.html');
  const sources = ['src', 'public', 'sample-plans'].map((d) => path.join(ROOT, d)).filter(existsSync);
  const files = ['index.html', 'vite.config.ts', '.ci/offline.ts', 'package-lock.json'].map((f) =>
    path.join(ROOT, f),
  );
  const changed = Math.max(
    ...sources.map(newest),
    ...files.map((f) => (existsSync(f) ? statSync(f).mtimeMs : 0)),
  );
  if (!always && existsSync(page) && statSync(page).mtimeMs > changed) return;
  console.log('Building ...');
  mkdirSync(path.join(ROOT, 'dist'), { recursive: true });
  const code = bin('vite', ['build', '--logLevel', 'warn']);
  if (code !== 0) process.exit(code);
}

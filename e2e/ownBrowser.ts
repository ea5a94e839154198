import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type Page, type TestInfo } from '@playwright/test';

/** A browser with a profile of its own on disk, which outlives it: to be killed, and started again on the same profile. */
export interface OwnBrowser {
  readonly page: Page;
  /** Ends every process of it at once, as a power cut or an out-of-memory kill would. */
  kill(): Promise<void>;
  /** Lets it end by itself. */
  close(): Promise<void>;
}

/** Browsers that run now: one a failed test has left must end with its profile. */
const running = new Map<string, ChildProcess>();

/** A new folder for a profile, and how to be rid of it. */
export async function newProfile(): Promise<{ readonly folder: string; remove(): Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'zonewright-profile-'));
  return {
    folder,
    async remove() {
      const left = running.get(folder);
      if (left) await killGroup(left);
      await rm(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
    },
  };
}

/** Kills a browser and all processes it has started, and waits until it is gone. */
async function killGroup(child: ChildProcess): Promise<void> {
  const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  if (child.exitCode !== null || child.signalCode !== null) return;
  process.kill(-(child.pid as number), 'SIGKILL');
  await gone;
}

/** Starts a browser on a profile, in a process group of its own, with the app's address as `./`. */
export async function startBrowser(folder: string, info: TestInfo): Promise<OwnBrowser> {
  const { launchOptions, viewport, baseURL } = info.project.use;
  const child = spawn(
    launchOptions?.executablePath ?? chromium.executablePath(),
    [
      ...(launchOptions?.args ?? []),
      '--headless=new',
      '--remote-debugging-port=0',
      `--user-data-dir=${folder}`,
      'about:blank',
    ],
    { detached: true, stdio: ['ignore', 'ignore', 'pipe'] },
  );
  running.set(folder, child);
  const ended = new Promise<void>((resolve) =>
    child.once('exit', () => {
      if (running.get(folder) === child) running.delete(folder);
      resolve();
    }),
  );
  const browser = await chromium.connectOverCDP(await addressOf(child));
  const [context] = browser.contexts();
  const page = context?.pages()[0];
  if (!page) throw new Error('the browser has no page');
  if (viewport) await page.setViewportSize(viewport);
  await page.goto(baseURL ?? '');
  return {
    page,
    async kill() {
      await killGroup(child);
      await browser.close().catch(() => undefined);
    },
    async close() {
      await endOf(browser);
      await ended;
    },
  };
}

async function endOf(browser: Browser): Promise<void> {
  const session = await browser.newBrowserCDPSession();
  await session.send('Browser.close').catch(() => undefined);
}

/** Where the browser listens, as it says on its error stream. */
function addressOf(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    child.stderr?.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      const [, address] = /DevTools listening on (ws:\S+)/.exec(said) ?? [];
      if (address) resolve(address);
    });
    child.once('exit', () => reject(new Error(`the browser did not start: ${said.slice(-500)}`)));
  });
}

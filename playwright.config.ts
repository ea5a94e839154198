import { existsSync } from 'node:fs';
import { defineConfig } from '@playwright/test';

const PORT = Number(process.env['ZONEWRIGHT_PORT'] ?? 4273);
/** Another build than dist/ may be named, so that a test run leaves dist/ alone. */
const DIST = process.env['ZONEWRIGHT_DIST'] ?? 'dist';
/** The browser the set-up found (.ci/setup.mjs), else Debian's, else Playwright's own. */
const SYSTEM_CHROMIUM = process.env['ZONEWRIGHT_CHROMIUM'] ?? '/usr/bin/chromium';

/** Browser tests run on the production build (npm test builds it first), in the system's Chromium where there is one. */
export default defineConfig({
  testDir: 'e2e',
  outputDir: 'test-results/e2e',
  fullyParallel: true,
  workers: 2,
  forbidOnly: true,
  timeout: 60_000,
  reporter: 'list',
  use: {
    baseURL: `http://localhost:${PORT}/`,
    viewport: { width: 1440, height: 900 },
    trace: 'retain-on-failure',
    launchOptions: {
      ...(existsSync(SYSTEM_CHROMIUM) ? { executablePath: SYSTEM_CHROMIUM } : {}),
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
  webServer: {
    command: `npx vite preview --port ${PORT} --strictPort --outDir ${DIST}`,
    port: PORT,
    reuseExistingServer: false,
  },
});

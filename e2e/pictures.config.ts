import { defineConfig } from '@playwright/test';
import base from '../playwright.config.ts';

/** `npm run pictures`: takes the README's pictures again, on the build in dist/. */
export default defineConfig({
  ...base,
  testDir: '.',
  outputDir: '../test-results/pictures',
  testMatch: 'takePictures.ts',
  // Seen from this folder: the page is served from the project's own.
  webServer: { ...(base.webServer as object), cwd: '..' } as never,
  workers: 1,
  reporter: 'list',
});

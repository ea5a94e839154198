import { defineConfig } from '@playwright/test';
import base from '../playwright.config.ts';

/** `npm run pictures`: takes the README's pictures again, on the build in dist/. */
export default defineConfig({
  ...base,
  testDir: '.',
  outputDir: '../test-results/pictures',
  testMatch: 'takePictures.ts',
  workers: 1,
  reporter: 'list',
});

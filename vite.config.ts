import react from '@vitejs/plugin-react';
import { defineConfig } from 'vitest/config';
import { pdfParts } from './.ci/pdfParts.ts';
import { SECURITY_HEADERS, offline, strictPolicy } from './.ci/offline.ts';

export default defineConfig({
  base: './',
  plugins: [react(), strictPolicy(), pdfParts(), offline()],
  build: {
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: 'es2023',
    // The engine, the document and the tools do nothing when they are merely imported: what a page does not call of
    // them is left out of it.
    rolldownOptions: {
      treeshake: { moduleSideEffects: (id) => !/\/src\/(engine|document|tools)\//.test(id) },
    },
  },
  worker: { format: 'es' },
  preview: { headers: SECURITY_HEADERS },
  test: { include: ['tests/**/*.test.{ts,tsx}'], testTimeout: 120_000 },
});

import react from '@vitejs/plugin-react';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  base: './',
  plugins: [react()],
  build: { assetsInlineLimit: 0, modulePreload: { polyfill: false }, target: 'es2023' },
  worker: { format: 'es' },
  test: { include: ['tests/**/*.test.{ts,tsx}'], testTimeout: 120_000 },
});

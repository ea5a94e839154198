import react from '@vitejs/plugin-react';
import { defineConfig } from 'vitest/config';
import { SECURITY_HEADERS, offline, strictPolicy } from './vite.offline.ts';

export default defineConfig({
  base: './',
  plugins: [react(), strictPolicy(), offline()],
  build: { assetsInlineLimit: 0, modulePreload: { polyfill: false }, target: 'es2023' },
  worker: { format: 'es' },
  preview: { headers: SECURITY_HEADERS },
  test: { include: ['tests/**/*.test.{ts,tsx}'], testTimeout: 120_000 },
});

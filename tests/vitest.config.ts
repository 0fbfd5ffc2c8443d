import preact from '@preact/preset-vite';
import { defineConfig } from 'vitest/config';

const root = new URL('..', import.meta.url).pathname;

export default defineConfig({
  root,
  plugins: [preact()],
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    exclude: ['tests/browser/**', 'node_modules/**'],
    environment: 'node',
    setupFiles: ['tests/setup.ts'],
    testTimeout: 60_000,
    cache: { dir: `${root}node_modules/.cache/vitest` } as never,
  },
});

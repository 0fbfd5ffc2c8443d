import { defineConfig } from 'vitest/config';

/** The quick tests of the escalation core only: each mutant runs them all. */
const root = new URL('../..', import.meta.url).pathname;

export default defineConfig({
  root,
  // Named outright, so that a sandbox copy needs none of the other projects' settings.
  tsconfig: `${root}app/care/tsconfig.json`,
  test: {
    include: ['assess', 'cases', 'properties', 'table', 'who-to-call'].map((name) => `tests/care/escalation/${name}.test.ts`),
    environment: 'node',
    setupFiles: ['tests/setup.ts'],
    testTimeout: 60_000,
  },
});

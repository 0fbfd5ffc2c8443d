import { defineConfig } from '@playwright/test';
import base from './playwright.config.ts';

export default defineConfig({
  ...base,
  outputDir: '/tmp/tb-results',
  use: { ...base.use, baseURL: 'http://localhost:4391/' },
  webServer: {
    command: `npx tsx -e "import('/work/main/tests/tools/static-server.ts').then(m => m.serveFolder(4391, '/tmp/tb-dist/'))"`,
    cwd: '/work/main',
    url: 'http://localhost:4391/',
    reuseExistingServer: false,
  },
});

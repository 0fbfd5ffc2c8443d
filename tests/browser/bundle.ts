import { fileURLToPath } from 'node:url';
import type { Page } from '@playwright/test';
import { build, type Rolldown } from 'vite';

type Files = ReadonlyMap<string, { body: string | Buffer; type: string }>;

const TYPES: Readonly<Record<string, string>> = { js: 'text/javascript', wasm: 'application/wasm' };

/** Bundles a page's script that only tests have, with all that it loads, in memory. */
async function bundled(entry: string): Promise<Files> {
  const root = fileURLToPath(new URL('../..', import.meta.url));
  const result = (await build({
    configFile: false,
    root,
    base: './',
    logLevel: 'error',
    publicDir: false,
    cacheDir: `${root}node_modules/.cache/vite-test-page`,
    build: {
      write: false,
      minify: false,
      target: 'es2022',
      assetsInlineLimit: 0,
      rolldownOptions: { input: entry, output: { entryFileNames: 'entry.js' } },
    },
  })) as Rolldown.RolldownOutput;
  return new Map(
    result.output.map((file) => [
      file.fileName,
      {
        body: file.type === 'chunk' ? file.code : Buffer.from(file.source),
        type: TYPES[file.fileName.split('.').at(-1) ?? ''] ?? 'application/octet-stream',
      },
    ]),
  );
}

const made = new Map<string, Promise<Files>>();

/** Opens a blank page of this site that runs a script of the tests, and waits until it has run. @param base of the site. */
export async function openTestPage(page: Page, name: string, base = './'): Promise<void> {
  const entry = fileURLToPath(new URL(name, import.meta.url));
  const files = made.get(entry) ?? bundled(entry);
  made.set(entry, files);
  const known = await files;
  await page.route('**/test-page/**', (route) => {
    const path = new URL(route.request().url()).pathname.split('/test-page/')[1] ?? '';
    if (path === '')
      return route.fulfill({ contentType: 'text/html', body: '<!doctype html><script type="module" src="entry.js"></script>' });
    const file = known.get(path);
    return file ? route.fulfill({ contentType: file.type, body: file.body }) : route.fulfill({ status: 404 });
  });
  await page.goto(`${base}test-page/`);
}

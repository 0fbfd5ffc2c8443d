import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { formPages } from './pages.ts';

/** Builds the form for production into a folder. */
export async function buildForm(folder: string): Promise<void> {
  await build({
    configFile: false,
    root: fileURLToPath(new URL('.', import.meta.url)),
    base: './',
    logLevel: 'error',
    define: { PAGES: JSON.stringify(formPages()), 'process.env.NODE_ENV': '"production"' },
    build: { outDir: folder, emptyOutDir: true, target: 'es2022', chunkSizeWarningLimit: 2000, modulePreload: { polyfill: false } },
  });
}

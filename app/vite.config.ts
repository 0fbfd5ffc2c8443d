import { cpSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import preact from '@preact/preset-vite';
import { defineConfig, type Plugin } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';
import { FIRST_STYLE } from './first-style.ts';
import { policyFor } from './policy.ts';

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** Icons keep their names, because home screens remember them. */
function icons(): Plugin {
  return {
    name: 'icons',
    apply: 'build',
    closeBundle: () => cpSync(at('../assets/icons'), at('../dist/icons'), { recursive: true }),
  };
}

function policy(): Plugin {
  return {
    name: 'policy',
    apply: 'build',
    transformIndexHtml: (_html, { path }) => [
      { tag: 'meta', attrs: { 'http-equiv': 'Content-Security-Policy', content: policyFor(path) }, injectTo: 'head-prepend' },
    ],
  };
}

/**
 * The patient's page brings the style of its first words along. The style sheet
 * itself is fetched ahead and put on by main.tsx, for a sheet in the head holds
 * up the first paint. Its place is in the head all the same: screens add theirs at the
 * end of the head, and what a screen says must come after what holds for all.
 */
function firstWords(): Plugin {
  return {
    name: 'first-words',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler: (html, { path }) =>
        path.endsWith('/index.html')
          ? html.replace('<link rel="stylesheet"', `<style>${FIRST_STYLE}</style>\n    <link rel="preload" as="style"`)
          : html,
    },
  };
}

/** Words that only the desk speaks, though the patient's app could load any. */
const DESK_WORDS = /\/locales\/[a-z]+\/(?:clinic|paper)\.json$/;

/**
 * What a phone keeps for use without a network: all that the patient's page can
 * reach, and nothing of the desk. The decoder of QR codes is among it although
 * it is large (about 0.4 MB packed): a clinic's consulting room may have no
 * network, and the phones that need it are those whose home-screen app can take
 * in a plan in no other way. It is fetched after the first screen stands.
 */
function kept() {
  const reached = new Set<string>();
  const plugin: Plugin = {
    name: 'kept',
    apply: 'build',
    generateBundle(_options, bundle) {
      const visit = (file: string): void => {
        const chunk = bundle[file];
        if (reached.has(file) || chunk?.type !== 'chunk') return;
        if (DESK_WORDS.test(chunk.facadeModuleId ?? '')) return;
        reached.add(file);
        for (const css of chunk.viteMetadata?.importedCss ?? []) reached.add(css);
        for (const next of [...chunk.imports, ...chunk.dynamicImports]) visit(next);
      };
      for (const chunk of Object.values(bundle)) {
        if (chunk.type === 'chunk' && chunk.facadeModuleId?.endsWith('/app/index.html')) visit(chunk.fileName);
      }
    },
  };
  const isKept = (url: string): boolean => (/\.(?:js|css)$/.test(url) ? reached.has(url) : url !== 'clinic.html');
  return { plugin, isKept };
}
const keeping = kept();

export default defineConfig({
  root: at('.'),
  // Relative, so that the site works in any folder of any static host.
  base: './',
  publicDir: false,
  cacheDir: at('../node_modules/.cache/vite'),
  plugins: [
    preact(),
    policy(),
    firstWords(),
    icons(),
    keeping.plugin,
    VitePWA({
      strategies: 'injectManifest',
      srcDir: 'worker',
      filename: 'sw.ts',
      injectRegister: false,
      injectManifest: {
        globPatterns: ['**/*.{html,js,css,svg,png,json,webmanifest,wasm}'],
        manifestTransforms: [(entries) => ({ manifest: entries.filter(({ url }) => keeping.isKept(url)), warnings: [] })],
      },
      manifest: {
        id: './',
        name: 'Tendbook',
        short_name: 'Tendbook',
        description: "Follow your clinic's plan for a foot wound at home, one step at a time.",
        start_url: './',
        scope: './',
        display: 'standalone',
        orientation: 'any',
        background_color: '#fbf5e9',
        theme_color: '#fbf5e9',
        categories: ['medical', 'health'],
        icons: [
          { src: 'icons/icon-192.png', sizes: '192x192', type: 'image/png' },
          { src: 'icons/icon-512.png', sizes: '512x512', type: 'image/png' },
          { src: 'icons/maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
          { src: 'icons/icon.svg', sizes: 'any', type: 'image/svg+xml' },
        ],
      },
    }),
  ],
  build: {
    outDir: at('../dist'),
    emptyOutDir: true,
    rolldownOptions: { input: [at('./index.html'), at('./clinic.html')] },
    target: 'es2022',
    // Drawings are painted through a mask and stay files of their own.
    assetsInlineLimit: 0,
    // Later parts come from the worker's cache; lists of what to fetch ahead would only make the first script larger.
    modulePreload: { polyfill: false, resolveDependencies: (_file, deps, { hostType }) => (hostType === 'html' ? deps : []) },
  },
});

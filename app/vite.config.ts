import { cpSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import preact from '@preact/preset-vite';
import { defineConfig, type Plugin } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** Icons keep their names, because home screens remember them. */
function icons(): Plugin {
  return {
    name: 'icons',
    apply: 'build',
    closeBundle: () => cpSync(at('../assets/icons'), at('../dist/icons'), { recursive: true }),
  };
}

/** No inline script, no other origin. Trusted Types and headers are for the host to add. */
const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' blob: data:",
  "connect-src 'self'",
  "manifest-src 'self'",
  "worker-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

function policy(): Plugin {
  return {
    name: 'policy',
    apply: 'build',
    transformIndexHtml: () => [
      { tag: 'meta', attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY }, injectTo: 'head-prepend' },
    ],
  };
}

export default defineConfig({
  root: at('.'),
  // Relative, so that the site works in any folder of any static host.
  base: './',
  publicDir: false,
  cacheDir: at('../node_modules/.cache/vite'),
  plugins: [
    preact(),
    policy(),
    icons(),
    VitePWA({
      strategies: 'injectManifest',
      srcDir: 'worker',
      filename: 'sw.ts',
      injectRegister: false,
      injectManifest: { globPatterns: ['**/*.{html,js,css,svg,png,json,webmanifest}'] },
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
    target: 'es2022',
    // Drawings are painted through a mask and stay files of their own.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
});

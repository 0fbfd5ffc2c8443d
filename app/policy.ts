import { FIRST_STYLE_SOURCE } from './first-style.ts';

/**
/**
 * No inline script, no inline style but the one known by its hash, no other
 * origin, and no text that becomes script: Trusted Types are required, with one
 * policy, for the service worker's own address. Both pages may run WebAssembly,
 * for the decoder of QR codes, which comes from this site: the phone reads
 * plans, the desk reads logs. That lets no text become script. The desk may
 * show a page of this site in a frame, for the preview.
 */
export const policyFor = (page: string): string => {
  const own = page.endsWith('clinic.html') ? ["style-src 'self'", "frame-src 'self'"] : [`style-src 'self' ${FIRST_STYLE_SOURCE}`];
  return [...POLICY, ...own].join('; ');
};
const POLICY = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "img-src 'self' blob: data:",
  "connect-src 'self'",
  "manifest-src 'self'",
  "worker-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "require-trusted-types-for 'script'",
  'trusted-types tendbook-worker',
];

/**
 * What a host should send besides: the page's own policy again with the part
 * that only a header can say, and what keeps files from being taken for others.
 * The site works without them; see `npm run headers`.
 */
export const headersFor = (page: string): Record<string, string> => ({
  'Content-Security-Policy': `${policyFor(page)}; frame-ancestors 'self'`,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy': 'camera=(self), microphone=(), geolocation=()',
});

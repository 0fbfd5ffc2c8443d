import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { delimiter, dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Phone } from './phone.ts';

/**
 * The last version that runs on Node 20. It is fetched by npx when the bench
 * first runs, and kept in npm's cache: with what it brings along it is larger
 * than a third of everything else that is installed here, and only the bench
 * needs it.
 */
const LIGHTHOUSE = 'lighthouse@12.8.2';

export const CATEGORIES = ['performance', 'accessibility', 'best-practices', 'seo'] as const;
export type Category = (typeof CATEGORIES)[number];

interface Request {
  transferSize?: number;
  /** Who asked: the page, or its service worker. */
  sessionTargetType?: string;
}

/** The parts of Lighthouse's report that are read here. */
interface Report {
  finalDisplayedUrl: string;
  runtimeError?: { code: string; message: string };
  categories: Record<string, { score: number | null; auditRefs: { id: string; weight: number }[] }>;
  audits: Record<string, { score: number | null; title: string; numericValue?: number; details?: { items?: Request[] } }>;
}
type Run = (url: string, flags: object) => Promise<{ lhr: Report } | undefined>;

let fetched: Promise<Run> | undefined;

/** @throws with what to do, when it cannot be had. */
async function fetchLighthouse(): Promise<Run> {
  // npx puts the folder of the package's commands first in the path.
  const { stdout } = spawnSync('npx', ['--yes', `--package=${LIGHTHOUSE}`, '--', 'node', '-p', 'process.env.PATH'], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'inherit'],
    shell: process.platform === 'win32',
  });
  const module = (stdout ?? '')
    .split(delimiter)
    .map((bin) => join(dirname(bin), 'lighthouse', 'core', 'index.js'))
    .find((file) => existsSync(file));
  if (!module) throw new Error(`${LIGHTHOUSE} could not be fetched. Connect to the network once, then run the bench again.`);
  return ((await import(pathToFileURL(module).href)) as { default: Run }).default;
}

export interface Auditing {
  categories: readonly Category[];
  /** Keeps the site's service worker and files; otherwise they are fetched anew. What a person has stored stays in any case. */
  installed?: boolean;
}

export interface Audited {
  /** 0 to 100. */
  scores: Partial<Record<Category, number>>;
  largestPaintMs: number;
  blockingMs: number;
  shift: number;
  /** What came over the wire for the page, packed, until it was at rest; not what its service worker fetched later. */
  bytes: number;
  /** What took points away, by its id. */
  faults: string[];
}

/** Looks at one address with Lighthouse's own mobile settings. @throws when it cannot see the page. */
export async function audit(phone: Phone, url: string, { categories, installed = false }: Auditing): Promise<Audited> {
  fetched ??= fetchLighthouse();
  const lighthouse = await fetched;
  const result = await lighthouse(url, {
    port: phone.port,
    logLevel: 'error',
    onlyCategories: categories,
    disableStorageReset: installed,
    disableFullPageScreenshot: true,
  });
  if (!result) throw new Error(`Lighthouse gave no report on ${url}`);
  const { lhr } = result;
  if (lhr.runtimeError) throw new Error(`Lighthouse on ${url}: ${lhr.runtimeError.message}`);
  return read(lhr, categories);
}

function read({ categories, audits }: Report, asked: readonly Category[]): Audited {
  const value = (id: string): number => audits[id]?.numericValue ?? Number.NaN;
  const requests = (audits['network-requests']?.details?.items ?? []).filter((r) => r.sessionTargetType === 'page');
  const refs = asked.flatMap((name) => categories[name]?.auditRefs ?? []);
  const lost = refs.filter(({ id, weight }) => weight > 0 && (audits[id]?.score ?? 1) < 1);
  return {
    scores: Object.fromEntries(asked.map((name) => [name, Math.round((categories[name]?.score ?? Number.NaN) * 100)])),
    largestPaintMs: value('largest-contentful-paint'),
    blockingMs: value('total-blocking-time'),
    shift: value('cumulative-layout-shift'),
    bytes: requests.reduce((sum, { transferSize = 0 }) => sum + transferSize, 0),
    faults: [...new Set(lost.map(({ id }) => id))],
  };
}

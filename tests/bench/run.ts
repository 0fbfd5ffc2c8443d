import { existsSync } from 'node:fs';
import { cpus } from 'node:os';
import { DIST } from '../tools/static-server.ts';
import { markdown, type Part, type Row, table } from './figures.ts';

/**
 * Measures and prints one table: medians of several runs, and ratios of what
 * was measured in the same run. Nothing is asserted on time, because machines
 * differ; the budgets are in DEVELOPERS.md.
 *
 *   npm run bench                  all parts
 *   npm run bench -- load rules    some parts
 *   npm run bench -- --markdown    the table as the README has it
 */
interface Measure {
  /** Measures the built site in a Chromium. */
  needsSite: boolean;
  load: () => Promise<Part>;
}

const MEASURES: Record<string, Measure> = {
  load: { needsSite: true, load: async () => (await import('./load.ts')).load },
  check: { needsSite: true, load: async () => (await import('./check.ts')).check },
  screens: { needsSite: true, load: async () => (await import('./screens.ts')).screens },
  start: { needsSite: true, load: async () => (await import('./start.ts')).start },
  log: { needsSite: true, load: async () => (await import('./log.ts')).log },
  records: { needsSite: false, load: async () => (await import('./records.ts')).records },
  visit: { needsSite: false, load: async () => (await import('./visit.ts')).visit },
  photo: { needsSite: false, load: async () => (await import('./photo.ts')).photo },
  rules: { needsSite: false, load: async () => (await import('./rules.ts')).rules },
};

const asked = process.argv.slice(2);
const names = asked.filter((word) => word !== '--markdown');
const unknown = names.filter((name) => !Object.hasOwn(MEASURES, name));
if (unknown.length > 0) {
  console.error(`There is no part "${unknown[0]}". There are: ${Object.keys(MEASURES).join(', ')}.`);
  process.exit(1);
}
const chosen = Object.entries(MEASURES).filter(([name]) => names.length === 0 || names.includes(name));
if (chosen.some(([, { needsSite }]) => needsSite) && !existsSync(`${DIST}index.html`)) {
  console.error('There is no built site yet. Run "npm run build" first.');
  process.exit(1);
}

const rows: Row[] = [];
for (const [name, { load }] of chosen) {
  const began = Date.now();
  const part = await load();
  rows.push(...(await part()));
  console.error(`${name}: ${Math.round((Date.now() - began) / 1000)} s`);
}
console.log(asked.includes('--markdown') ? markdown(rows) : table(rows));
console.log(`\n${cpus().length} cores, ${cpus()[0]?.model.trim()}, Node ${process.versions.node}`);
process.exit(0);

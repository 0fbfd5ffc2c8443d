import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { ensureChromium, NO_CHROMIUM } from './chromium.ts';

/**
 * Runs the parts named on the command line one after the other and closes with
 * one line, `N passed, N failed`, summed from what the runners themselves report.
 */
interface Sum {
  passed: number;
  failed: number;
}

const REPORTS = 'node_modules/.cache/reports';
mkdirSync(REPORTS, { recursive: true });

function npx(args: string[], env: Record<string, string> = {}, quiet = false): { ok: boolean; out: string } {
  const result = spawnSync('npx', ['--no-install', ...args], {
    env: { ...process.env, ...env },
    encoding: 'utf8',
    maxBuffer: 1e9,
    stdio: ['ignore', quiet ? 'pipe' : 'inherit', 'inherit'],
  });
  return { ok: result.status === 0, out: result.stdout ?? '' };
}

const asOne = (ok: boolean): Sum => ({ passed: ok ? 1 : 0, failed: ok ? 0 : 1 });

/** A report file from this run; one left from an earlier run must not be counted. */
function freshReport(name: string): string {
  const path = `${REPORTS}/${name}.json`;
  rmSync(path, { force: true });
  return path;
}

const readJson = <T>(path: string): T | undefined => (existsSync(path) ? (JSON.parse(readFileSync(path, 'utf8')) as T) : undefined);

function unit(zone: string, more: Record<string, string> = {}, paths: readonly string[] = []): Sum {
  const file = freshReport('unit');
  const { ok } = npx(
    ['vitest', 'run', '--config', 'tests/vitest.config.ts', '--reporter=dot', '--reporter=json', `--outputFile.json=${file}`, ...paths],
    { TZ: zone, ...more },
  );
  const report = readJson<{ numPassedTests: number; numFailedTests: number; numFailedTestSuites: number; success: boolean }>(file);
  if (!report) return { passed: 0, failed: 1 };
  // A file that cannot even be loaded fails no single test, but the run all the same.
  const failed = Math.max(report.numFailedTests, ok && report.success ? 0 : 1);
  return { passed: report.numPassedTests, failed };
}

function cases(): Sum {
  const { out } = npx(['tsx', 'tests/tools/cases.ts', 'tests/cases'], {}, true);
  process.stdout.write(out);
  const line = /(\d+) passed, (\d+) failed\s*$/.exec(out);
  return line ? { passed: Number(line[1]), failed: Number(line[2]) } : { passed: 0, failed: 1 };
}

/** @param log a line for each test: how many requests its pages made, and how many of them to another origin. */
function sayRequests(log: string): void {
  const lines = log
    .trim()
    .split('\n')
    .map((line) => line.split(' ').map(Number));
  const sum = (at: number): number => lines.reduce((all, line) => all + (line[at] ?? 0), 0);
  console.log(`${sum(0)} requests in ${lines.length} journeys, ${sum(1)} to another origin.`);
}

function browser(): Sum {
  const chromium = ensureChromium();
  if (!chromium) {
    console.error(NO_CHROMIUM);
    return { passed: 0, failed: 1 };
  }
  const file = freshReport('browser');
  const log = `${process.cwd()}/${freshReport('requests')}`;
  const { ok } = npx(['playwright', 'test', '--config', 'tests/browser/playwright.config.ts', '--reporter=dot,json'], {
    CHROMIUM: chromium,
    PLAYWRIGHT_JSON_OUTPUT_NAME: `${process.cwd()}/${file}`,
    REQUESTS_LOG: log,
  });
  if (existsSync(log)) sayRequests(readFileSync(log, 'utf8'));
  const stats = readJson<{ stats: { expected: number; unexpected: number; flaky: number } }>(file)?.stats;
  if (!stats) return { passed: 0, failed: 1 };
  if (stats.flaky > 0) console.log(`${stats.flaky} passed only at the second try; see the names above.`);
  return { passed: stats.expected + stats.flaky, failed: Math.max(stats.unexpected, ok ? 0 : 1) };
}

/**
 * Tests of code that reads a clock, a day or a zone; the others cannot tell where they run.
 * The long searches through the rules are among the others: they know hours gone by and no days.
 */
const KNOWS_DAYS = [
  ...['change', 'check', 'drainage', 'healing', 'judge', 'log', 'plan', 'schedule', 'supplies', 'visit'].map(
    (part) => `tests/care/${part}`,
  ),
  ...['assess', 'cases', 'who-to-call'].map((part) => `tests/care/escalation/${part}`),
  'tests/store',
  'tests/screens',
  'tests/words',
  'tests/exchange/calendar',
  'tests/exchange/csv',
  'tests/exchange/zoned',
];

const PARTS: Record<string, () => Sum> = {
  types: () => asOne(npx(['tsc', '-b']).ok),
  lint: () => asOne(npx(['biome', 'check', '--config-path=.biome.json', '.']).ok),
  unit: () => unit('UTC'),
  // Whatever knows days and hours again, where the day starts at another hour and clocks change.
  zones: () =>
    ['America/Chicago', 'Pacific/Apia', 'Asia/Tokyo']
      .map((zone) => unit(zone, { FC_RUNS: '60' }, KNOWS_DAYS))
      .reduce((a, b) => ({ passed: a.passed + b.passed, failed: a.failed + b.failed })),
  cases,
  build: () => asOne(npx(['vite', 'build', '--config', 'app/vite.config.ts', '--logLevel', 'warn']).ok),
  browser,
};

const total: Sum = { passed: 0, failed: 0 };
const lines: string[] = [];
for (const name of process.argv.slice(2)) {
  const part = PARTS[name];
  if (!part) {
    console.error(`There is no part "${name}". There are: ${Object.keys(PARTS).join(', ')}.`);
    process.exit(1);
  }
  console.log(`\n— ${name} —`);
  const began = Date.now();
  const sum = part();
  total.passed += sum.passed;
  total.failed += sum.failed;
  lines.push(
    `${name.padEnd(10)}${String(sum.passed).padStart(6)} ok ${String(sum.failed).padStart(5)} not  ${Math.round((Date.now() - began) / 1000)} s`,
  );
}
console.log(`\n${lines.join('\n')}`);
console.log(`${total.passed} passed, ${total.failed} failed`);
process.exit(total.failed > 0 ? 1 : 0);

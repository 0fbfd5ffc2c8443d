import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { ensureChromium, NO_CHROMIUM } from './chromium.ts';

/**
 * Kills the app in a real browser hundreds of times (after `npm run build`) and
 * sums up what that came to: `npm run kills`. `KILLS` says how often each act
 * is killed, `KILLS_SEED` by which chance.
 */
const EACH = process.env.KILLS ?? '30';
const LINE = /kills of (.+): (\d+), while it ran (\d+), halfway (\d+), records expected (\d+), lost (\d+)/;

const chromium = ensureChromium();
if (!chromium) {
  console.error(NO_CHROMIUM);
  process.exit(1);
}

const rows: [act: string, ...figures: number[]][] = [];
const run = spawn('npx', ['--no-install', 'playwright', 'test', '--config', 'tests/browser/playwright.config.ts', 'kills.spec'], {
  env: { ...process.env, CHROMIUM: chromium, KILLS: EACH },
  stdio: ['ignore', 'pipe', 'inherit'],
});
const ended = new Promise<number | null>((resolve) => run.once('close', resolve));
for await (const line of createInterface({ input: run.stdout })) {
  const [, act, ...figures] = LINE.exec(line) ?? [];
  if (act) rows.push([act, ...figures.map(Number)]);
  else console.log(line);
}

const HEADS = ['kills', 'while it ran', 'halfway', 'records expected', 'records lost'] as const;
const print = (act: string, figures: readonly (string | number)[]): void =>
  console.log(act.padEnd(32) + figures.map((f, i) => String(f).padStart((HEADS[i] ?? '').length + 3)).join(''));
const sums = HEADS.map((_, i) => rows.reduce((sum, row) => sum + (row[i + 1] as number), 0));
console.log();
print('', HEADS);
for (const [act, ...figures] of rows) print(act, figures);
print('in all', sums);
process.exit((await ended) ?? 1);

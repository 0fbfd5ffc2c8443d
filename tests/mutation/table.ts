import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/**
 * Mutates the rule table. Stryker passes over everything under `as const`, which
 * the table needs for its types, so it is run here on a copy without it; tests
 * do not check types. Usage: npx tsx tests/mutation/table.ts
 */
const root = new URL('../..', import.meta.url).pathname;
const copy = mkdtempSync(join(tmpdir(), 'rule-table-'));
const RULES = 'app/care/escalation/rules.ts';
const CONST = '] as const satisfies readonly Rule[];';

for (const part of ['package.json', 'app/care', 'tests/setup.ts', 'tests/care/escalation', 'tests/cases', 'tests/mutation']) {
  mkdirSync(join(copy, part, '..'), { recursive: true });
  cpSync(join(root, part), join(copy, part), { recursive: true });
}
symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));

const table = readFileSync(join(copy, RULES), 'utf8');
if (!table.includes(CONST)) throw new Error(`${RULES} no longer ends its table with ${CONST}`);
writeFileSync(join(copy, RULES), table.replace(CONST, '];'));
const configFile = join(copy, 'tests/mutation/stryker.config.json');
const config = JSON.parse(readFileSync(configFile, 'utf8')) as Record<string, unknown>;
writeFileSync(configFile, JSON.stringify({ ...config, mutate: [RULES] }));

const ran = spawnSync(process.execPath, [join(root, 'node_modules/@stryker-mutator/core/bin/stryker.js'), 'run', configFile], {
  cwd: copy,
  stdio: 'inherit',
});
mkdirSync(join(root, 'reports'), { recursive: true });
cpSync(join(copy, 'reports/mutation.json'), join(root, 'reports/mutation-table.json'));
rmSync(copy, { recursive: true, force: true });
process.exitCode = ran.status ?? 1;

import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

/** The command that runs case files, started as a process of its own. */

const root = new URL('../../..', import.meta.url).pathname;
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'cases-'));
  mkdirSync(join(folder, 'more'));
  mkdirSync(join(folder, 'empty'));
  const write = (name: string, content: unknown): void =>
    writeFileSync(join(folder, name), typeof content === 'string' ? content : JSON.stringify(content));
  const good = { name: 'all mild', expect: { level: 'carryOn' } };
  write('good.json', [good, { name: 'faint', answers: { unwell: ['faint'] }, expect: { level: 'emergency' } }]);
  write('bad.json', [good, { name: 'wrong', expect: { level: 'callNow' } }, { name: 'odd', answer: 1, expect: { level: 'carryOn' } }]);
  write('broken.json', '[{ "name": "half a case",\n');
  write('more/deeper.json', [good]);
  write('more/notes.txt', 'not a case file');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function run(...paths: string[]): { code: number | null; lines: string[]; errors: string } {
  const tool = spawnSync(process.execPath, ['--import', 'tsx', join(root, 'tests/tools/cases.ts'), ...paths], {
    cwd: root,
    encoding: 'utf8',
  });
  return { code: tool.status, lines: tool.stdout.trim().split('\n'), errors: tool.stderr };
}

describe('the command that runs case files', () => {
  it('ends with 0 and a count when all cases pass', () => {
    expect(run(join(folder, 'good.json'))).toMatchObject({ code: 0, lines: ['2 passed, 0 failed'] });
  });

  it('ends with 1, one line for each failed case and a count', () => {
    const { code, lines } = run(join(folder, 'bad.json'));
    expect(code).toBe(1);
    expect(lines).toHaveLength(3);
    expect(lines[0]).toContain('bad.json: wrong: expected callNow, got carryOn');
    expect(lines[1]).toContain('bad.json: odd: ');
    expect(lines[2]).toBe('1 passed, 2 failed');
  });

  it('goes on after a file that is no JSON, and reads folders in folders', () => {
    const { code, lines } = run(folder);
    expect(code).toBe(1);
    expect(lines.at(-1)).toBe('4 passed, 3 failed');
    expect(lines.filter((l) => l.includes('broken.json: not readable as JSON: '))).toHaveLength(1);
  });

  it('takes several paths, and says which is missing or holds no case file', () => {
    const { code, lines } = run(join(folder, 'good.json'), join(folder, 'none.json'), join(folder, 'empty'));
    expect(code).toBe(1);
    expect(lines[0]).toContain('none.json: no such file or folder');
    expect(lines[1]).toContain('empty: no .json file in this folder');
    expect(lines[2]).toBe('2 passed, 2 failed');
  });

  it('asks for a path when there is none', () => {
    const { code, errors } = run();
    expect(code).toBe(1);
    expect(errors).toContain('Name a case file');
  });
});

import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { filesBelow, ROOT, read } from './source.ts';

/** Without comments and strings, so that words about a thing are not the thing. */
const bare = (text: string): string =>
  text
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/\/\/.*$/gm, '')
    .replace(/'(?:[^'\\\n]|\\.)*'/g, "''");

const IMPURE = [
  /\bDate\.now\b/,
  /new Date\(\s*\)/,
  /\bMath\.random\b/,
  /\bcrypto\b/,
  /\blocalStorage\b|\bindexedDB\b/,
  /\bdocument\b|\bwindow\b|\bnavigator\b/,
  /\bfetch\(/,
];

const impurities = (text: string): string[] => IMPURE.filter((p) => p.test(bare(text))).map(String);

describe('the care core is pure', () => {
  const files = filesBelow('app/care').filter((f) => f.endsWith('.ts'));

  test('no clock, no chance, no storage, no page', () => {
    expect(files.length).toBeGreaterThan(15);
    expect(files.flatMap((f) => impurities(read(f)).map((p) => `${f}: ${p}`))).toEqual([]);
  });

  test('the check can fail', () => {
    expect(impurities('const a = Date.now();')).toHaveLength(1);
    expect(impurities('const a = new Date();')).toHaveLength(1);
    expect(impurities('const a = Math.random();')).toHaveLength(1);
    expect(impurities("// Date.now() is not for here\nconst a = 'Date.now()';")).toEqual([]);
  });
});

describe('the house stays tidy', () => {
  test('the top level holds what it should and nothing else', () => {
    const shown = readdirSync(ROOT).filter((n) => !n.startsWith('.') && !['node_modules', 'dist', 'test-results', 'reports'].includes(n));
    expect(shown.sort()).toEqual(
      ['DEVELOPERS.md', 'README.md', 'app', 'assets', 'locales', 'package-lock.json', 'package.json', 'tests', 'tsconfig.json'].sort(),
    );
  });

  test('file names are in kebab case and no file grows past 420 lines', () => {
    const files = filesBelow('app').filter((f) => /\.(tsx?|css)$/.test(f));
    const names = files.map((f) => f.split('/').at(-1) as string);
    expect(names.filter((n) => !/^[a-z0-9]+(-[a-z0-9]+)*(\.config)?\.(tsx?|css)$/.test(n))).toEqual([]);
    const long = files.filter((f) => !f.endsWith('.css') && read(f).split('\n').length > 420);
    expect(long).toEqual([]);
  });

  test('nothing is switched off or left for later', () => {
    const mine = [...filesBelow('app'), ...filesBelow('tests')].filter((f) => /\.(tsx?)$/.test(f) && !f.startsWith('tests/house/'));
    const later = mine.filter((f) => /\bTODO\b|\bFIXME\b|\bXXX\b|(?:describe|test|it)\.(?:skip|only|todo)\b/.test(read(f)));
    expect(later).toEqual([]);
  });
});

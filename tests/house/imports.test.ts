import { describe, expect, test } from 'vitest';
import { filesBelow, importsOf, read } from './source.ts';

/** Who may import whom, by folder below app/. A folder may always import itself. */
const MAY: Record<string, readonly string[]> = {
  care: [],
  exchange: ['care'],
  store: ['care'],
  words: ['care'],
  parts: ['care', 'words'],
  screens: ['care', 'exchange', 'store', 'words', 'parts'],
  clinic: ['care', 'exchange', 'store', 'words', 'parts'],
  worker: ['care'],
};
/** The two entries start their own part of the house. */
const ENTRIES: Record<string, readonly string[]> = {
  'app/main.tsx': ['screens', 'store', 'style', 'parts'],
  'app/clinic.tsx': ['clinic', 'style', 'parts'],
  'app/vite.config.ts': ['policy.ts', 'first-style.ts'],
  'app/policy.ts': ['first-style.ts'],
  'app/first-style.ts': [],
};
/** Packages that a folder may use; others are for the rest of the house. */
const PACKAGES: Record<string, readonly string[]> = { care: ['zod/mini'] };

/** Whoever reads a store past its one door would read or write in the clear on a phone with a passcode. The desk's own store holds nothing of a person. */
const TO_THE_STORES = [
  'app/store/open-store.ts',
  'app/store/shelf.ts',
  'app/store/values.ts',
  'app/store/migrate.ts',
  'app/store/preview-shelf.ts',
  'app/store/lock.ts',
  'app/store/front.ts',
  'app/store/erase.ts',
  'app/clinic/kept.ts',
];

const sources = filesBelow('app').filter((f) => /\.tsx?$/.test(f));
const folderOf = (path: string): string => path.split('/')[1] ?? '';

function breaches(path: string, text: string): string[] {
  const own = folderOf(path);
  const allowed = ENTRIES[path] ?? MAY[own];
  if (!allowed) return [`${path}: a folder the house does not know`];
  return importsOf(path, text).flatMap((target) => {
    if (target === 'idb-keyval' && !TO_THE_STORES.includes(path)) return [`${path}: past the door to the stores (values.ts)`];
    if (!target.startsWith('app/')) {
      const isPackage = !target.startsWith('locales/') && !target.startsWith('assets/');
      const packages = PACKAGES[own];
      return isPackage && packages && !packages.includes(target) ? [`${path} may not use ${target}`] : [];
    }
    const folder = folderOf(target);
    if (folder !== own && !allowed.includes(folder)) return [`${path} may not import ${target}`];
    return own === 'screens' && !isScreenAllowed(path, target) ? [`${path}: a screen may not import a screen (${target})`] : [];
  });
}

/** Screens live in folders of their own; only the shared files beside them and the router cross over. */
function isScreenAllowed(path: string, target: string): boolean {
  const from = path.split('/')[2] ?? '';
  const to = target.split('/')[2] ?? '';
  const toFile = target.split('/').length === 3;
  return folderOf(target) !== 'screens' || toFile || from === to || ['app/screens/app.tsx', 'app/screens/places.tsx'].includes(path);
}

/** Circles among files, each named once. */
function circles(graph: ReadonlyMap<string, readonly string[]>): string[] {
  const found = new Set<string>();
  const done = new Set<string>();
  const visit = (file: string, trail: readonly string[]): void => {
    if (trail.includes(file)) {
      const ring = trail.slice(trail.indexOf(file));
      const first = ring.indexOf([...ring].sort()[0] as string);
      found.add([...ring.slice(first), ...ring.slice(0, first)].join(' → '));
      return;
    }
    if (done.has(file)) return;
    for (const next of graph.get(file) ?? []) visit(next, [...trail, file]);
    done.add(file);
  };
  for (const file of graph.keys()) visit(file, []);
  return [...found];
}

describe('who may import whom', () => {
  test('no file reaches into a part of the house it may not use', () => {
    expect(sources.length).toBeGreaterThan(50);
    expect(sources.flatMap((path) => breaches(path, read(path)))).toEqual([]);
  });

  test('no two files import each other, directly or round a corner', () => {
    expect(circles(new Map(sources.map((path) => [path, importsOf(path, read(path)).filter((t) => t.startsWith('app/'))])))).toEqual([]);
  });

  test('the checks can fail', () => {
    expect(breaches('app/care/x.ts', "import { h } from 'preact';")).toEqual(['app/care/x.ts may not use preact']);
    expect(breaches('app/care/x.ts', "import { y } from '../store/log.ts';")).toHaveLength(1);
    expect(breaches('app/parts/x.tsx', "import type { Book } from '../store/book.ts';")).toHaveLength(1);
    expect(breaches('app/screens/log/x.tsx', "import { A } from '../alert/alert.tsx';")).toHaveLength(1);
    expect(breaches('app/worker/x.ts', "const a = import('../screens/app.tsx');")).toHaveLength(1);
    expect(breaches('app/utils/x.ts', '')).toHaveLength(1);
    expect(breaches('app/screens/x.ts', "import { get } from 'idb-keyval';")).toHaveLength(1);
    expect(
      circles(
        new Map([
          ['a', ['b']],
          ['b', ['c']],
          ['c', ['b']],
        ]),
      ),
    ).toEqual(['b → c']);
  });
});

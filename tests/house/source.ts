import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** Paths of all files below a folder of the project, with forward slashes. */
export function filesBelow(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)).replaceAll('\\', '/'))
    .sort();
}

export const read = (path: string): string => readFileSync(join(ROOT, path), 'utf8');

/** Every module a source file names, in import, export or import() form; relative ones as paths of the project. */
export function importsOf(path: string, text: string): string[] {
  const found = [
    ...text.matchAll(/(?:import|export)\s[^'"`;]*?from\s*['"]([^'"]+)['"]|import\s*['"]([^'"]+)['"]|import\(\s*['"`]([^'"`]+)['"`]\s*\)/g),
  ];
  return found
    .map((m) => (m[1] ?? m[2] ?? m[3]) as string)
    .map((name) => (name.startsWith('.') ? posix.normalize(posix.join(dirname(path), name)) : name));
}

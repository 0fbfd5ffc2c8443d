import { readFileSync } from 'node:fs';

type Words = { [key: string]: string | Words };

/** The English words behind a key such as `alert:title.callNow`, so that a better wording breaks no test. */
export function say(key: string, values: Record<string, string | number> = {}): string {
  const [area, path] = key.split(':') as [string, string];
  const words = JSON.parse(readFileSync(new URL(`../../locales/en/${area}.json`, import.meta.url), 'utf8')) as Words;
  const found = path.split('.').reduce<string | Words | undefined>((at, part) => (typeof at === 'object' ? at[part] : undefined), words);
  if (typeof found !== 'string') throw new Error(`no words for ${key}`);
  return found.replace(/\{\{(\w+)\}\}/g, (_, name: string) => String(values[name] ?? ''));
}

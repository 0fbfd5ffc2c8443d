import { filesBelow, read } from '../house/source.ts';

type Words = { [key: string]: string | Words };

/** Every text of a language by its full key, such as `alert:title.callNow`. */
export type Texts = ReadonlyMap<string, string>;

/** Languages with a folder of words. */
export const languages = (): string[] => [...new Set(filesBelow('locales').map((path) => path.split('/')[1] as string))].sort();

/** The files of words of a language, without folder and ending: `alert`, `change` and so on. */
export const areasOf = (language: string): string[] =>
  filesBelow(`locales/${language}`)
    .filter((path) => path.endsWith('.json'))
    .map((path) => path.slice(`locales/${language}/`.length, -'.json'.length));

export function textsOf(language: string, areas: readonly string[] = areasOf(language)): Texts {
  return new Map(areas.flatMap((area) => flat(`${area}:`, JSON.parse(read(`locales/${language}/${area}.json`)) as Words)));
}

const flat = (prefix: string, words: Words): [string, string][] =>
  Object.entries(words).flatMap(([key, value]): [string, string][] =>
    typeof value === 'string' ? [[prefix + key, value]] : flat(`${prefix}${key}.`, value),
  );

/** CLDR plural categories, as i18next writes them behind a key. */
const PLURAL_ENDING = /_(zero|one|two|few|many|other)$/;

/** A key without its plural ending. */
export const withoutPlural = (key: string): string => key.replace(PLURAL_ENDING, '');

export const pluralOf = (key: string): string | undefined => PLURAL_ENDING.exec(key)?.[1];

/** Names of the placeholders of a text, in order of the alphabet. */
export const placeholdersOf = (text: string): string[] => [...text.matchAll(/\{\{\s*(\w+)\s*\}\}/g)].map((m) => m[1] as string).sort();

import i18next, { type i18n } from 'i18next';
import type { AreaFiles, Words } from './area-files.ts';
import { closed, isolated } from './bidi.ts';

/** Languages with a complete set of words, each under its own name. */
export const LANGUAGES = {
  en: 'English',
  es: 'Español',
  fr: 'Français',
  ar: 'العربية',
  vi: 'Tiếng Việt',
} as const;
export type Language = keyof typeof LANGUAGES;

/**
 * Where the words of each language stand: `source` is what the others are
 * translated from; a translation is `unchecked` until a clinician who speaks
 * the language has read it, then `checked`. An unchecked one says so on screen
 * and on paper.
 */
const STANDING: Record<Language, 'source' | 'unchecked' | 'checked'> = {
  en: 'source',
  es: 'unchecked',
  fr: 'unchecked',
  ar: 'unchecked',
  vi: 'unchecked',
};
/** Whether a language's words are a translation that no clinician who speaks it has checked. */
export const isUnchecked = (language: string): boolean => STANDING[language as Language] === 'unchecked';
/** Two made-up languages for tests: long and marked, and the same from right to left. */
export const TEST_LANGUAGES = ['qps', 'qpr'] as const;

/** The files of words, one a screen area. */
export const AREAS = [
  'common',
  'today',
  'check',
  'change',
  'alert',
  'rules',
  'log',
  'photo',
  'plan',
  'settings',
  'lock',
  'welcome',
  'supplies',
  'calendar',
  'handOver',
  'keep',
  'chart',
  'course',
  'clinic',
  'paper',
  'visit',
] as const;
export type Area = (typeof AREAS)[number];

const english: AreaFiles = import.meta.glob<{ default: Words }>('../../locales/en/*.json');
const OTHERS: Partial<Record<string, () => Promise<{ files: AreaFiles }>>> = {
  es: () => import('./files/es.ts'),
  fr: () => import('./files/fr.ts'),
  ar: () => import('./files/ar.ts'),
  vi: () => import('./files/vi.ts'),
};

const RIGHT_TO_LEFT = ['ar', 'fa', 'he', 'ur', 'qpr'];
export const directionOf = (language: string): 'rtl' | 'ltr' => (RIGHT_TO_LEFT.includes(language.split('-')[0] ?? '') ? 'rtl' : 'ltr');

/** The language to use for a wish such as `es-MX`; English when there is none. */
export function languageFor(wishes: readonly (string | undefined)[]): string {
  for (const wish of wishes) {
    const base = wish?.toLowerCase().split('-')[0] ?? '';
    if (base in LANGUAGES || (TEST_LANGUAGES as readonly string[]).includes(base)) return base;
  }
  return 'en';
}

/** The i18next instance of the app. */
export const words: i18n = i18next.createInstance();

void words.init({
  lng: 'en',
  fallbackLng: false,
  ns: [],
  defaultNS: 'common',
  resources: {},
  // Preact escapes what it shows.
  interpolation: { escapeValue: false },
  returnNull: false,
  initAsync: false,
});

/** The words of one area; English where the language's own cannot be had, for English words beat none. */
async function fetchArea(language: string, area: Area): Promise<Words> {
  const inEnglish = english[`../../locales/en/${area}.json`];
  if (!inEnglish) throw new Error(`no words for ${area}`);
  const own = async (): Promise<{ default: Words }> => {
    const list = await OTHERS[language]?.();
    return (list?.files[`../../../locales/${language}/${area}.json`] ?? inEnglish)();
  };
  return (await own().catch(inEnglish)).default;
}

async function loadArea(language: string, area: Area): Promise<void> {
  if (words.hasResourceBundle(language, area)) return;
  const loaded = await fetchArea(language, area);
  const isTest = (TEST_LANGUAGES as readonly string[]).includes(language);
  words.addResourceBundle(language, area, isTest ? (await import('./pseudo.ts')).pseudo(loaded) : loaded);
}

/** Loads the words of some areas in the current language. */
export const loadAreas = (areas: readonly Area[], language: string = words.language): Promise<unknown> =>
  Promise.all(areas.map((area) => loadArea(language, area)));

const loadedAreas = (): Area[] => AREAS.filter(hasArea);

/** Changes the language of everything on screen; needs no restart and touches nothing recorded. */
export async function switchLanguage(language: string): Promise<void> {
  await loadAreas(loadedAreas(), language);
  await words.changeLanguage(language);
}

let borrowed: string | undefined;

/** The language that is spoken now: the app's own but within `inLanguage`. */
export const spoken = (): string => borrowed ?? words.language;

/**
 * What `make` says in another language, whose words must be loaded. For texts
 * that stand in two languages side by side; only what is said within the call
 * is in it, nothing that is drawn later.
 */
export function inLanguage<T>(language: string, make: () => T): T {
  const before = borrowed;
  borrowed = language;
  try {
    return make();
  } finally {
    borrowed = before;
  }
}

/** A text from elsewhere, a name for instance: kept together where the language goes from right to left, for it may not, and turning round nothing behind it. */
export const apart = (text: string, language: string = spoken()): string =>
  directionOf(language) === 'rtl' && text !== '' ? isolated(closed(text)) : closed(text);

/** A word or sentence. Keys are written `area:path.to.key`; `lng` asks for another language whose words are loaded. */
export function t(key: string, values: { lng?: string; [name: string]: unknown } = {}): string {
  const given = Object.entries(values).map(([name, value]) => [
    name,
    typeof value === 'string' && name !== 'lng' ? apart(value, values.lng) : value,
  ]);
  return words.t(key, { lng: spoken(), ...Object.fromEntries(given) }) as string;
}

/** Whether the words of an area are loaded in the current language. */
export const hasArea = (area: Area): boolean => words.hasResourceBundle(spoken(), area);

/** Whether there are words for a key. */
export const hasWords = (key: string): boolean => words.exists(key, { lng: spoken() });

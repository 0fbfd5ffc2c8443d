import { describe, expect, it } from 'vitest';
import { STEPS } from '../../app/care/change/steps.ts';
import { QUESTIONS } from '../../app/care/check/questions.ts';
import { FAMILY_IDS } from '../../app/care/dressings/families.ts';
import { LEVELS } from '../../app/care/escalation/levels.ts';
import { RULE_IDS } from '../../app/care/escalation/rule-levels.ts';
import { CLEANSERS, DEVICES, DONTS, FIXATIONS, SIDES, SITES, SKIN_PROTECTIONS } from '../../app/care/plan/plan.ts';
import { read } from '../house/source.ts';
import { areasOf, languages, placeholdersOf, pluralOf, type Texts, textsOf, withoutPlural } from './locale-files.ts';
import { fits, isTemplate, type KeyUse, keyUses, ownWords, ruleVariants, shown, sourceFiles } from './source-words.ts';

const english = textsOf('en');
const bare = new Set([...english.keys()].map(withoutPlural));
const others = languages().filter((language) => language !== 'en');

/** The plural categories that CLDR gives a language, as the JavaScript engine knows them. */
const categoriesOf = (language: string): string[] => new Intl.PluralRules(language).resolvedOptions().pluralCategories.sort();

/** Keys a language must have: the English ones, counted texts once for each of its own plural categories. */
function keysFor(language: string, texts: Texts): string[] {
  const counted = new Set([...texts.keys()].filter((key) => pluralOf(key) !== undefined).map(withoutPlural));
  const plain = [...texts.keys()].filter((key) => pluralOf(key) === undefined);
  return [...plain, ...[...counted].flatMap((key) => categoriesOf(language).map((category) => `${key}_${category}`))].sort();
}

/** Texts of another language that may read as in English. */
const SAME_IN: Record<string, readonly string[]> = {
  // The name of the app; "No" and "Plan" are the same words in Spanish.
  es: ['common:app', 'check:temperature.code.no', 'check:bleeding.code.none', 'log:underPlan'],
  // The name of the app; "Dates", "hydrogel", "minutes", "Pause", "Photos", "Plan", "Points" and "Version" are the same words in French.
  fr: [
    'common:app',
    'common:family.hydrogel',
    'change:timer.pause',
    'log:planFrom',
    'log:revision',
    'log:underPlan',
    'plan:field.version',
    'plan:version',
    'plan:visits',
    'welcome:writtenOn',
    'clinic:part.dates',
    'clinic:standing.line',
    'paper:footer',
    'clinic:log.tab.photos_one',
    'clinic:log.tab.photos_other',
    'clinic:log.photo_one',
    'clinic:log.photo_other',
    'photo:all_one',
    'photo:mode.points.name',
    'lock:minutes_one',
    'lock:minutes_other',
    'handOver:count.photo_one',
    'handOver:count.photo_other',
    'keep:photos.title',
    'keep:back.photos_one',
    'keep:back.photos_other',
    'visit:plans.version',
  ],
  // The name of the app keeps its letters; all else is in Arabic script.
  ar: ['common:app'],
  // The name of the app; "hydrogel" is written the same in Vietnamese, as on the packet.
  vi: ['common:app', 'common:family.hydrogel'],
};

/** What is left of a text without placeholders, numbers and signs. */
const lettersOf = (text: string): string => text.replace(/\{\{\w+\}\}/g, '').replace(/[^\p{L}]/gu, '');

/** Texts that stand as in English although they hold words. */
function leftInEnglish(language: string, texts: Texts): string[] {
  const allowed = SAME_IN[language] ?? [];
  return [...texts]
    .filter(([key, text]) => english.get(key) === text && lettersOf(text) !== '' && !allowed.includes(key))
    .map(([key]) => key);
}

const NUMBERS = [...Array.from({ length: 300 }, (_, n) => n), 0.5, 1.5, 2.5];

/** Plural categories of a language that are for one number only: the noun alone then says how many, as in Arabic for two. */
function categoriesOfOneNumber(language: string): string[] {
  const rules = new Intl.PluralRules(language);
  const all = NUMBERS.map((n) => rules.select(n));
  return categoriesOf(language).filter((category) => all.filter((c) => c === category).length === 1);
}

/**
 * Placeholders must be those of the English text; a plural that English lacks
 * goes by its `other`. The number may be left out where the noun says it.
 */
function wrongPlaceholders(texts: Texts, language: string): string[] {
  const oneNumber = categoriesOfOneNumber(language);
  return [...texts].flatMap(([key, text]) => {
    const like = english.get(key) ?? english.get(`${withoutPlural(key)}_other`);
    if (like === undefined) return [];
    const leaveOut = oneNumber.includes(pluralOf(key) ?? '') ? 'count' : undefined;
    const without = (names: string[]) => names.filter((name) => name !== leaveOut).join();
    return without(placeholdersOf(text)) === without(placeholdersOf(like)) ? [] : [`${key}: ${text} (English: ${like})`];
  });
}

const emptyOrMarkup = (texts: Texts): string[] =>
  [...texts].filter(([, text]) => text.trim() !== text || text === '' || /[<>]/.test(text)).map(([key]) => key);

describe('language files', () => {
  it('there is at least one language beside English, and each has the same files', () => {
    expect(others.length).toBeGreaterThan(0);
    for (const language of others) expect(areasOf(language), language).toEqual(areasOf('en'));
  });

  it.each(languages())('%s has every key, in each plural category of the language', (language) => {
    expect([...textsOf(language).keys()].sort()).toEqual(keysFor(language, english));
  });

  it.each(languages())('%s has the same placeholders as English', (language) => {
    expect(wrongPlaceholders(textsOf(language), language)).toEqual([]);
  });

  it.each(languages())('%s has no empty text, no stray space at an end and no markup', (language) => {
    expect(emptyOrMarkup(textsOf(language))).toEqual([]);
  });

  it.each(others)('%s leaves nothing in English', (language) => {
    expect(leftInEnglish(language, textsOf(language))).toEqual([]);
    for (const key of SAME_IN[language] ?? [])
      expect(textsOf(language).get(key), `${key} is listed as the same but is not`).toBe(english.get(key));
  });

  it('each of these checks can fail', () => {
    // CLDR: Spanish has one, many and other; English one and other.
    expect(
      keysFor(
        'es',
        new Map([
          ['a:n_one', ''],
          ['a:n_other', ''],
          ['a:b', ''],
        ]),
      ),
    ).toEqual(['a:b', 'a:n_many', 'a:n_one', 'a:n_other']);
    expect(wrongPlaceholders(new Map([['alert:sayWho', 'Llamo por {{nombre}}']]), 'es')).toHaveLength(1);
    // CLDR: in Arabic `two` is for 2 alone, `few` for 3 to 10 and more.
    const noNumber = (category: string) => wrongPlaceholders(new Map([[`common:every.days_${category}`, 'كل يومين']]), 'ar');
    expect(noNumber('two')).toEqual([]);
    expect(noNumber('few')).toHaveLength(1);
    expect(
      emptyOrMarkup(
        new Map([
          ['a:b', ''],
          ['a:c', ' c'],
          ['a:d', 'a <b>'],
          ['a:e', 'fine'],
        ]),
      ),
    ).toEqual(['a:b', 'a:c', 'a:d']);
    expect(
      leftInEnglish(
        'es',
        new Map([
          ['common:next', 'Next'],
          ['common:size', '{{width}} × {{height}}'],
        ]),
      ),
    ).toEqual(['common:next']);
  });
});

// The store and the care core hold no words; their strings such as `odour:usual` are codes.
const uses = sourceFiles('app')
  .filter((path) => !path.startsWith('app/care/') && !path.startsWith('app/store/'))
  .flatMap((path) => keyUses(path, read(path), areasOf('en')));

const isMissing = (use: KeyUse, keys: ReadonlySet<string>): boolean =>
  isTemplate(use) ? ![...keys].some((key) => fits(use, key)) : !keys.has(use.key);
const where = (use: KeyUse): string => `${use.path}: ${shown(use)}`;

describe('keys in the code', () => {
  it('every key asked for has English words', () => {
    expect(uses.filter((use) => isMissing(use, bare)).map(where)).toEqual([]);
  });

  it('every English text is used', () => {
    const unused = [...bare].filter((key) => !uses.some((use) => fits(use, key)));
    expect(unused, 'no code asks for these; remove them or build their key from a template that begins with the area').toEqual([]);
  });

  it('finds keys in calls, in constants and in templates, and sees a missing one', () => {
    const text = `
      const key = \`rules:\${rule.id}\`;
      const label = wide ? 'common:next' : t('common:nowhere');
      export const all = () => [t(\`check:\${id}.said.\${code}\`), t(\`\${key}.plain\`), t(\`alert:nothing.\${x}\`)];`;
    const found = keyUses('x.ts', text, areasOf('en'));
    expect(found.map(shown).sort()).toEqual(
      ['alert:nothing.{…}', 'check:{…}.said.{…}', 'common:next', 'common:nowhere', 'rules:{…}.plain'].sort(),
    );
    expect(found.filter((use) => isMissing(use, bare)).map(shown)).toEqual(['common:nowhere', 'alert:nothing.{…}']);
    const plain = found.find((use) => shown(use) === 'rules:{…}.plain') as KeyUse;
    expect(['rules:fever.plain', 'rules:fever.other', 'rules:a.b.plain'].map((key) => fits(plain, key))).toEqual([true, false, false]);
  });
});

/** Questions whose answers are codes with words of their own. */
const coded = QUESTIONS.filter((q) => q.kind === 'oneOf' || q.kind === 'manyOf' || q.kind === 'warmth' || q.kind === 'temperature');
const none = (codes: readonly string[]): string[] => codes.filter((code) => code !== 'none');

/** Keys that the code builds from its own lists. */
const implied: Record<string, readonly string[]> = {
  questions: QUESTIONS.flatMap((q) => [`check:${q.id}.ask`, `check:${q.id}.short`]),
  answers: coded.flatMap((q) => q.codes.flatMap((code) => [`check:${q.id}.code.${code}`, `check:${q.id}.said.${code}`])),
  doubts: coded.map((q) => `check:${q.id}.said.unsure`),
  rules: RULE_IDS.map((id) => `rules:${id}.plain`),
  variants: [...ruleVariants(read('app/care/escalation/rules.ts'))].flatMap(([id, variants]) => variants.map((v) => `rules:${id}.${v}`)),
  steps: STEPS.flatMap((step) => [`change:step.${step}.title`, `change:step.${step}.text`]),
  levels: [...LEVELS, 'unfinished'].flatMap((level) => [`alert:short.${level}`, `alert:title.${level}`, `alert:lead.${level}`]),
  sides: SIDES.flatMap((side) => [`common:foot.${side}`, `common:wound.${side}`]),
  sites: SITES.map((site) => `common:site.${site}`),
  families: FAMILY_IDS.map((id) => `common:family.${id}`),
  donts: DONTS.map((id) => `plan:dont.${id}`),
  devices: DEVICES.map((id) => `plan:deviceKind.${id}`),
  fixations: FIXATIONS.map((id) => `change:fixation.${id}`),
  cleansers: none(CLEANSERS).flatMap((id) => [`change:cleanser.${id}`, `change:rinseWith.${id}`]),
  protections: none(SKIN_PROTECTIONS).map((id) => `change:protect.${id}`),
};

describe('keys that lists of the code imply', () => {
  it.each(Object.entries(implied))('%s', (_, keys) => {
    expect(keys.length).toBeGreaterThan(0);
    expect(keys.filter((key) => !english.has(key))).toEqual([]);
  });

  it('no text stands for a rule, step or code that is gone', () => {
    const all = new Set(Object.values(implied).flat());
    const listed =
      /^(rules:|change:(step|fixation|cleanser|rinseWith|protect)\.|common:(site|family|foot)\.|plan:(dont|deviceKind)\.|alert:(short|title|lead)\.)/;
    expect([...english.keys()].filter((key) => listed.test(key) && !all.has(key))).toEqual([]);
  });

  it('reads the variants of a rule from its row', () => {
    const row = `[{ id: 'a', level: 'mention', when: (f) => f.x ? { findings: [], variant: 'long' } : undefined }, { id: 'b', when: () => undefined }]`;
    expect([...ruleVariants(`export const RULES = ${row};`)]).toEqual([
      ['a', ['long']],
      ['b', []],
    ]);
    expect(implied.variants).toContain('rules:plan-out-of-date.long');
  });
});

describe('words in components', () => {
  // The last screen of all works without language files, so it carries English of its own.
  const files = sourceFiles('app/parts', 'app/screens', 'app/clinic').filter(
    (path) => path.endsWith('.tsx') && path !== 'app/screens/fatal.tsx',
  );

  it('there are components to look at', () => {
    expect(files.length).toBeGreaterThan(10);
  });

  it.each(files)('%s holds no words of its own', (path) => {
    expect(ownWords(path, read(path))).toEqual([]);
  });

  it('sees words between tags, in attributes and in choices, and lets keys, codes and signs be', () => {
    const text = `
      export const A = ({ x }) => (
        <Page title="Hello" class="page">
          <p>Words here</p>
          <p>{x ? 'One' : t('common:next')}</p>
          <p>{x && \`\${x} kg\`}</p>
          <p>{x === 'code' && <b>{x.kind !== 'other' ? x.a : x.b}</b>}</p>
          <img alt="A foot" src="foot.svg" />
          <button type="button" aria-label={'Close'}>×</button>
          <p class="lead" key="a">{t('common:next')} · {x.join(', ')} – 12</p>
        </Page>
      );`;
    expect(ownWords('a.tsx', text).sort()).toEqual(['3: Hello', '4: Words here', '5: One', '6: kg', '8: A foot', '9: Close'].sort());
  });
});

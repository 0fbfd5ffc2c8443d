import { getSilabas } from 'silabea';
import { describe, expect, it } from 'vitest';
import { frenchNumber, frenchSyllables } from './french-syllables.ts';
import { areasOf, textsOf } from './locale-files.ts';
import {
  averageOf,
  countsOf,
  fleschKincaidGrade,
  inflesz,
  infleszBand,
  judged,
  kandelMoles,
  notEasy,
  spoken,
  tooHard,
} from './reading-ease.ts';
import { spanishNumber, spanishSyllables } from './spanish-syllables.ts';

/**
 * Sixth grade at most [EV-LIT-01: American Family Physician 2015 92:118
 * (AAFP: 5th to 6th grade; AMA: 6th); PMC3049622; PMC6334864; TH-16].
 */
const GRADE_AVERAGE = 6;
/** No single text may stray far above the average (our own limit). */
const GRADE_MOST = 9;
/** “Bastante fácil” begins at 65 on the INFLESZ scale [EV-LIT-04: Barrio-Cantalejo 2008; TH-16]. */
const INFLESZ_AVERAGE = 65;
/** No single text may stray far below (our own limit). */
const INFLESZ_LEAST = 50;
/**
 * “Easy” begins at 80 on Flesch's scale, which Kandel and Moles keep, and
 * stands for the sixth school year (from memory; the target is EV-LIT-01, TH-16).
 */
const FRENCH_AVERAGE = 80;
/** No single text may fall below “standard”, 60 on that scale (from memory; our own limit). */
const FRENCH_LEAST = 60;

describe('English', () => {
  it('works out the grade as the published formula does', () => {
    // [EV-LIT-03: worked by hand from EV-LIT-02] 100 words, 10 sentences, 130 syllables.
    expect(fleschKincaidGrade({ words: 100, sentences: 10, syllables: 130 })).toBeCloseTo(3.65, 10);
    // [EV-LIT-03] Grade 6 at 10 words a sentence allows 1.50 syllables a word.
    expect(fleschKincaidGrade({ words: 10, sentences: 1, syllables: 15 })).toBeCloseTo(6, 1);
  });

  it('reads numbers, units and placeholders as words', () => {
    expect(spoken('Between {{low}} and 113 °F', 'en').replace(/ +/g, ' ')).toBe(
      'Between thirty degrees Celsius and one hundred thirteen degrees Fahrenheit',
    );
    expect(spoken('1.1 mmol/L', 'en')).toBe('one point one millimoles per liter');
    expect(countsOf('Press for ten minutes. Do not look.', 'en')).toEqual({ words: 7, sentences: 2, syllables: 8 });
  });

  it.each(areasOf('en'))('%s.json: grade 6 or below on average, no text above grade 9', (area) => {
    const list = judged(textsOf('en', [area]), 'en');
    expect(list.length, 'no text of this file is long enough to judge').toBeGreaterThan(0);
    expect(tooHard(list, GRADE_MOST), 'too hard to read').toEqual([]);
    expect(averageOf(list), `average grade of ${area}.json, hardest first:\n${hardest(list, -1)}`).toBeLessThanOrEqual(GRADE_AVERAGE);
  });

  it('turns down a hard sentence', () => {
    const hard = judged(
      new Map([
        ['alert:x', 'Immediate clinical escalation is recommended whenever circulatory insufficiency of the extremity is suspected.'],
        ['alert:y', 'Call your clinic now if the foot is pale or cold.'],
      ]),
      'en',
    );
    expect(tooHard(hard, GRADE_MOST)).toEqual([expect.stringMatching(/^alert\.json x \[\d\d\.\d\] Immediate clinical/)]);
    expect(averageOf(hard)).toBeGreaterThan(GRADE_AVERAGE);
  });
});

describe('Spanish', () => {
  it('works out the score as the published formula does', () => {
    // [EV-LIT-06: worked by hand from EV-LIT-04] 2.0 syllables a word, 10 words a sentence.
    expect(inflesz({ words: 100, sentences: 10, syllables: 200 })).toBeCloseTo(72.235, 10);
  });

  it('names the bands of the scale', () => {
    // [EV-LIT-04: Barrio-Cantalejo 2008]
    expect([39, 40, 55, 65, 80, 81].map(infleszBand)).toEqual([
      'muy difícil',
      'algo difícil',
      'normal',
      'bastante fácil',
      'bastante fácil',
      'muy fácil',
    ]);
  });

  it('counts syllables of the words of the app as silabea does', () => {
    const words = [...textsOf('es').values()].flatMap(
      (text) =>
        spoken(text, 'es')
          .toLowerCase()
          .match(/\p{L}+/gu) ?? [],
    );
    const different = [...new Set(words)].filter((word) => word.length > 1).sort();
    expect(different.length).toBeGreaterThanOrEqual(100);
    const counts = (count: (word: string) => number) => different.map((word) => `${word} ${count(word)}`);
    expect(counts(spanishSyllables)).toEqual(counts((word) => getSilabas(word).numeroSilaba));
  });

  it('reads numbers, units and placeholders as words', () => {
    expect([0, 16, 21, 45, 100, 113, 800].map(spanishNumber)).toEqual([
      'cero',
      'dieciséis',
      'veintiuno',
      'cuarenta y cinco',
      'cien',
      'ciento trece',
      'ochocientos',
    ]);
    expect(spoken('1,1 mmol/L', 'es')).toBe('uno coma uno milimoles por litro');
  });

  it.each(areasOf('es'))('%s.json: “bastante fácil” (65 or more) on average, no text below 50', (area) => {
    const list = judged(textsOf('es', [area]), 'es');
    expect(list.length, 'no text of this file is long enough to judge').toBeGreaterThan(0);
    expect(notEasy(list, INFLESZ_LEAST), 'too hard to read').toEqual([]);
    const average = averageOf(list);
    const message = `average of ${area}.json is “${infleszBand(average)}”, hardest first:\n${hardest(list, 1)}`;
    expect(average, message).toBeGreaterThanOrEqual(INFLESZ_AVERAGE);
  });

  it('turns down a hard sentence', () => {
    const hard = judged(
      new Map([
        [
          'alert:x',
          'Recomendamos comunicar inmediatamente a la institución sanitaria correspondiente cualquier insuficiencia circulatoria.',
        ],
        ['alert:y', 'Llame ya a su clínica si el pie se pone frío o azul.'],
      ]),
      'es',
    );
    expect(notEasy(hard, INFLESZ_LEAST)).toEqual([expect.stringMatching(/^alert\.json x \[-?\d+\.\d\] Recomendamos/)]);
    expect(averageOf(hard)).toBeLessThan(INFLESZ_AVERAGE);
  });
});

/** Syllables as dictionaries' transcriptions have them (from memory), a mute e within a word counted. */
const FRENCH_WORDS: Readonly<Record<number, string>> = {
  1: 'plaie plaies pied pieds gauche eau l’eau n’est bien rien mieux sang nuit jouer pluie froid feuille œil cœur yeux oui août quatre longue le y',
  2: 'jusqu’au odeur rougeur diabète patient client suivez cheville orteil œdème idée créer maïs guérir mangeons ancien souvent argent',
  3: 'pansement aujourd’hui appelez maintenant numéro oublier infection essuyez nettoyez appareil hydrogel collagène évaluer glycémie océan',
  4: 'température écoulement aération calendrier réessayer physiologique',
  5: 'hydrocolloïde',
};

describe('French', () => {
  it('works out the score as the formula does', () => {
    // Worked by hand: 10 words a sentence, 1.5 syllables a word.
    expect(kandelMoles({ words: 100, sentences: 10, syllables: 150 })).toBeCloseTo(86.45, 10);
  });

  it.each(Object.entries(FRENCH_WORDS))('counts %s in each of: %s', (count, list) => {
    expect(list.split(' ').filter((word) => frenchSyllables(word) !== Number(count))).toEqual([]);
  });

  it('hears no -ent at the end of a verb', () => {
    expect(['montrent', 'peuvent', 'doivent', 'étaient', 'restent'].map(frenchSyllables)).toEqual([1, 1, 1, 2, 1]);
    expect(['moment', 'urgent', 'content'].map(frenchSyllables)).toEqual([2, 2, 2]);
  });

  it('reads numbers, units and placeholders as words', () => {
    expect([0, 16, 21, 45, 70, 71, 80, 91, 100, 113, 800].map(frenchNumber)).toEqual([
      'zéro',
      'seize',
      'vingt et un',
      'quarante-cinq',
      'soixante-dix',
      'soixante et onze',
      'quatre-vingts',
      'quatre-vingt-onze',
      'cent',
      'cent treize',
      'huit cents',
    ]);
    expect(spoken('1,1 mmol/L', 'fr')).toBe('un virgule un millimoles par litre');
    expect(countsOf('La plaie a-t-elle une odeur\u202f? Ne la mouillez pas.', 'fr')).toEqual({ words: 10, sentences: 2, syllables: 12 });
  });

  it.each(areasOf('fr'))('%s.json: “easy” (80 or more) on average, no text below 60', (area) => {
    const list = judged(textsOf('fr', [area]), 'fr');
    expect(list.length, 'no text of this file is long enough to judge').toBeGreaterThan(0);
    expect(notEasy(list, FRENCH_LEAST), 'too hard to read').toEqual([]);
    expect(averageOf(list), `average score of ${area}.json, hardest first:\n${hardest(list, 1)}`).toBeGreaterThanOrEqual(FRENCH_AVERAGE);
  });

  it('turns down a hard sentence', () => {
    const hard = judged(
      new Map([
        [
          'alert:x',
          'Une consultation médicale immédiate est recommandée devant toute suspicion d’insuffisance circulatoire des extrémités.',
        ],
        ['alert:y', 'Appelez votre centre tout de suite si le pied est froid ou bleu.'],
      ]),
      'fr',
    );
    expect(notEasy(hard, FRENCH_LEAST)).toEqual([expect.stringMatching(/^alert\.json x \[-?\d+\.\d\] Une consultation/)]);
    expect(averageOf(hard)).toBeLessThan(FRENCH_AVERAGE);
  });
});

/** The hardest texts of a file, for a message. @param sign -1 where a high score is hard, 1 where a low one is. */
function hardest(list: ReturnType<typeof judged>, sign: 1 | -1): string {
  const sorted = [...list].sort((a, b) => sign * (a.score - b.score));
  return sorted
    .slice(0, 8)
    .map((j) => `[${j.score.toFixed(1)}] ${j.key} ${j.text}`)
    .join('\n');
}

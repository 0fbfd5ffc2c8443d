import numberToWords from 'number-to-words';
import { syllable } from 'syllable';
import { frenchNumber, frenchSyllables } from './french-syllables.ts';
import type { Texts } from './locale-files.ts';
import { STAND_INS } from './reading-stand-ins.ts';
import { spanishNumber, spanishSyllables } from './spanish-syllables.ts';

/** Counts from which both formulas are worked out. */
export interface Counts {
  words: number;
  sentences: number;
  syllables: number;
}

/**
 * Flesch–Kincaid grade level, in US school years.
 * [EV-LIT-02: VA HSR&D page, “(.39 x ASL) + (11.8 x ASW) – 15.59”]
 */
export const fleschKincaidGrade = ({ words, sentences, syllables }: Counts): number =>
  0.39 * (words / sentences) + 11.8 * (syllables / words) - 15.59;

/**
 * Szigriszt-Pazos perspicuity on the INFLESZ scale, about 0 (hard) to 100 (easy).
 * [EV-LIT-04: Barrio-Cantalejo 2008, An Sist Sanit Navar 31:135]
 */
export const inflesz = ({ words, sentences, syllables }: Counts): number => 206.835 - 62.3 * (syllables / words) - words / sentences;

/** Bands of the INFLESZ scale [EV-LIT-04: Barrio-Cantalejo 2008]. */
export function infleszBand(score: number): string {
  if (score < 40) return 'muy difícil';
  if (score < 55) return 'algo difícil';
  if (score < 65) return 'normal';
  return score <= 80 ? 'bastante fácil' : 'muy fácil';
}

/**
 * Flesch's reading ease as Kandel and Moles (1958) fitted it to French, about 0
 * (hard) to 100 (easy). The constants are from memory; general-purpose readers
 * of reading ease such as textstat (its row `fr`) hold the same three.
 */
export const kandelMoles = ({ words, sentences, syllables }: Counts): number =>
  207 - 1.015 * (words / sentences) - 73.6 * (syllables / words);

/** Languages that have a formula here. */
export type ReadingLanguage = keyof typeof READERS;

/** How each language is read aloud and judged. */
const READERS = {
  en: {
    formula: fleschKincaidGrade,
    syllables: syllable,
    number: (value: number): string => numberToWords.toWords(value).replace(/[-,]/g, ' '),
    point: ' point ',
    units: [
      [/°C/g, ' degrees Celsius'],
      [/°F/g, ' degrees Fahrenheit'],
      [/mg\/dL/g, 'milligrams per deciliter'],
      [/mmol\/L/g, 'millimoles per liter'],
      [/\bcm\b/g, 'centimeters'],
      [/\ba\.m\./g, 'in the morning'],
    ],
  },
  es: {
    formula: inflesz,
    syllables: spanishSyllables,
    number: spanishNumber,
    point: ' coma ',
    units: [
      [/°C/g, ' grados Celsius'],
      [/°F/g, ' grados Fahrenheit'],
      [/mg\/dL/g, 'miligramos por decilitro'],
      [/mmol\/L/g, 'milimoles por litro'],
      [/\bcm\b/g, 'centímetros'],
    ],
  },
  fr: {
    formula: kandelMoles,
    syllables: frenchSyllables,
    number: frenchNumber,
    point: ' virgule ',
    units: [
      [/°C/g, ' degrés Celsius'],
      [/°F/g, ' degrés Fahrenheit'],
      [/mg\/dL/g, 'milligrammes par décilitre'],
      [/mmol\/L/g, 'millimoles par litre'],
      [/g\/L/g, 'grammes par litre'],
      [/\bcm\b/g, 'centimètres'],
      // The t of `a-t-elle` is a link, not a word.
      [/-t-(?=elles?\b|ils?\b|on\b)/g, ' '],
    ],
  },
} as const satisfies Record<string, Reader>;

interface Reader {
  formula: (counts: Counts) => number;
  syllables: (word: string) => number;
  /** A whole number in words. */
  number: (value: number) => string;
  /** What the decimal sign is called, with spaces around. */
  point: string;
  /** Signs and what they are called. */
  units: readonly (readonly [RegExp, string])[];
}

/** Numbers and any placeholder that has no stand-in of its own are read as a small number. */
const filled = (text: string, language: ReadingLanguage): string =>
  text.replace(/\{\{\s*(\w+)\s*\}\}/g, (_, name: string) => STAND_INS[language][name] ?? '4');

/** A text as it is read aloud: placeholders filled, units and numbers in words. A counter of syllables takes "10" for none. */
export function spoken(text: string, language: ReadingLanguage): string {
  const { units, point, number }: Reader = READERS[language];
  const withUnits = units.reduce((t, [sign, words]) => t.replace(sign, words), filled(text, language));
  return withUnits.replace(/\d+(?:[.,]\d+)?/g, (n) =>
    n
      .split(/[.,]/)
      .map((digits) => number(Number(digits)))
      .join(point),
  );
}

const wordsOf = (text: string): string[] => text.match(/[\p{L}’']*\p{L}[\p{L}’']*/gu) ?? [];

/** A sentence ends at a full stop, a question or exclamation mark or three dots. */
const sentencesOf = (text: string): string[] => text.split(/[.!?…]+(?=\s|$)/u).filter((part) => wordsOf(part).length > 0);

/** Words, sentences and syllables of a text in a language. */
export function countsOf(text: string, language: ReadingLanguage): Counts {
  const sentences = sentencesOf(spoken(text, language));
  const words = sentences.flatMap(wordsOf);
  const of = READERS[language].syllables;
  return { words: words.length, sentences: sentences.length, syllables: words.reduce((sum, word) => sum + of(word), 0) };
}

/** A formula says little about a label: texts shorter than this are not judged. */
export const WORDS_TO_JUDGE = 8;

export interface Judged {
  key: string;
  text: string;
  score: number;
}

/** Scores of every text long enough to be judged. */
export function judged(texts: Texts, language: ReadingLanguage): Judged[] {
  const { formula } = READERS[language];
  return [...texts]
    .map(([key, text]) => ({ key, text, counts: countsOf(text, language) }))
    .filter(({ counts }) => counts.words >= WORDS_TO_JUDGE)
    .map(({ key, text, counts }) => ({ key, text, score: formula(counts) }));
}

export const averageOf = (list: readonly Judged[]): number => list.reduce((sum, j) => sum + j.score, 0) / list.length;

/** English texts above a grade, each with file, key, text and grade, for a message. */
export const tooHard = (list: readonly Judged[], most: number): string[] => list.filter((j) => !(j.score <= most)).map(line);

/** Spanish or French texts below a score, for a message. */
export const notEasy = (list: readonly Judged[], least: number): string[] => list.filter((j) => !(j.score >= least)).map(line);

const line = ({ key, text, score }: Judged): string => `${key.replace(':', '.json ')} [${score.toFixed(1)}] ${text}`;

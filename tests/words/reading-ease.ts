import numberToWords from 'number-to-words';
import { syllable } from 'syllable';
import type { Texts } from './locale-files.ts';
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

/** What may stand in a placeholder: short and plausible, as in an invented plan. */
const STAND_INS: Record<'en' | 'es', Record<string, string>> = {
  en: {
    name: 'Rose',
    clinic: 'Hill Clinic',
    wound: 'left foot, big toe',
    where: 'left foot, big toe',
    site: 'big toe',
    places: 'big toe',
    signs: 'more pain and warmer skin',
    questions: 'pain and smell',
    amounts: 'some fluid',
    every: 'every day',
    day: 'Monday',
    days: 'Monday',
    month: 'May',
    time: '9 a.m.',
    who: 'Rose',
    field: 'phone',
    fault: 'is empty',
    hours: '9 to 5',
    zone: 'New York',
    reading: '38 °C',
    low: '30 °C',
    high: '45 °C',
    family: 'foam',
    dressing: 'foam',
    question: 'pain',
    answer: 'more pain',
  },
  es: {
    name: 'Rosa',
    clinic: 'Clínica Loma',
    wound: 'pie izquierdo, dedo gordo',
    where: 'pie izquierdo, dedo gordo',
    site: 'dedo gordo',
    places: 'dedo gordo',
    signs: 'más dolor y piel más caliente',
    questions: 'dolor y olor',
    amounts: 'poco líquido',
    every: 'cada día',
    day: 'lunes',
    days: 'lunes',
    month: 'mayo',
    time: 'las 9',
    who: 'Rosa',
    field: 'nombre',
    fault: 'falta',
    hours: 'de 9 a 5',
    zone: 'Lima',
    reading: '38 °C',
    low: '30 °C',
    high: '45 °C',
    family: 'espuma',
    dressing: 'espuma',
    question: 'dolor',
    answer: 'más dolor',
  },
};

/** Numbers and any placeholder that has no stand-in of its own are read as a small number. */
const filled = (text: string, language: 'en' | 'es'): string =>
  text.replace(/\{\{\s*(\w+)\s*\}\}/g, (_, name: string) => STAND_INS[language][name] ?? '4');

const UNITS: Record<'en' | 'es', readonly (readonly [RegExp, string])[]> = {
  en: [
    [/°C/g, ' degrees Celsius'],
    [/°F/g, ' degrees Fahrenheit'],
    [/mg\/dL/g, 'milligrams per deciliter'],
    [/mmol\/L/g, 'millimoles per liter'],
    [/\bcm\b/g, 'centimeters'],
    [/\ba\.m\./g, 'in the morning'],
  ],
  es: [
    [/°C/g, ' grados Celsius'],
    [/°F/g, ' grados Fahrenheit'],
    [/mg\/dL/g, 'miligramos por decilitro'],
    [/mmol\/L/g, 'milimoles por litro'],
    [/\bcm\b/g, 'centímetros'],
  ],
};

/** A text as it is read aloud: placeholders filled, units and numbers in words. A counter of syllables takes "10" for none. */
export function spoken(text: string, language: 'en' | 'es'): string {
  const withUnits = UNITS[language].reduce((t, [sign, words]) => t.replace(sign, words), filled(text, language));
  const point = language === 'en' ? ' point ' : ' coma ';
  const inWords = (digits: string): string =>
    language === 'en' ? numberToWords.toWords(Number(digits)).replace(/[-,]/g, ' ') : spanishNumber(Number(digits));
  return withUnits.replace(/\d+(?:[.,]\d+)?/g, (n) => n.split(/[.,]/).map(inWords).join(point));
}

const wordsOf = (text: string): string[] => text.match(/[\p{L}’']*\p{L}[\p{L}’']*/gu) ?? [];

/** A sentence ends at a full stop, a question or exclamation mark or three dots. */
const sentencesOf = (text: string): string[] => text.split(/[.!?…]+(?=\s|$)/u).filter((part) => wordsOf(part).length > 0);

/** Words, sentences and syllables of a text in a language. */
export function countsOf(text: string, language: 'en' | 'es'): Counts {
  const sentences = sentencesOf(spoken(text, language));
  const words = sentences.flatMap(wordsOf);
  const of = language === 'en' ? syllable : spanishSyllables;
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
export function judged(texts: Texts, language: 'en' | 'es'): Judged[] {
  const formula = language === 'en' ? fleschKincaidGrade : inflesz;
  return [...texts]
    .map(([key, text]) => ({ key, text, counts: countsOf(text, language) }))
    .filter(({ counts }) => counts.words >= WORDS_TO_JUDGE)
    .map(({ key, text, counts }) => ({ key, text, score: formula(counts) }));
}

export const averageOf = (list: readonly Judged[]): number => list.reduce((sum, j) => sum + j.score, 0) / list.length;

/** English texts above a grade, each with file, key, text and grade, for a message. */
export const tooHard = (list: readonly Judged[], most: number): string[] => list.filter((j) => !(j.score <= most)).map(line);

/** Spanish texts below a score, for a message. */
export const notEasy = (list: readonly Judged[], least: number): string[] => list.filter((j) => !(j.score >= least)).map(line);

const line = ({ key, text, score }: Judged): string => `${key.replace(':', '.json ')} [${score.toFixed(1)}] ${text}`;

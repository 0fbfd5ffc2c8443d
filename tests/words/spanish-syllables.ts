const STRONG = 'aeoáéóíú';

/**
 * Syllables of a Spanish word, by the rules of the Ortografía of the Real
 * Academia (from memory): each open vowel and each stressed i or u is the core
 * of a syllable of its own; other i and u lean on a neighbour; u is silent in
 * que, qui, gue, gui; y is a vowel unless a vowel follows.
 */
export function spanishSyllables(word: string): number {
  const letters = word
    .toLowerCase()
    .normalize('NFC')
    .replace(/qu/g, 'k')
    .replace(/gu(?=[eéií])/g, 'g')
    .replace(/y(?![aeiouáéíóú])/g, 'i');
  const groups = letters.match(/[aeiouáéíóúü]+/g) ?? [];
  const cores = groups.map((group) => Math.max(1, [...group].filter((vowel) => STRONG.includes(vowel)).length));
  return Math.max(
    1,
    cores.reduce((sum, n) => sum + n, 0),
  );
}

const SMALL =
  'cero uno dos tres cuatro cinco seis siete ocho nueve diez once doce trece catorce quince dieciséis diecisiete dieciocho diecinueve veinte'.split(
    ' ',
  );
const TENS = ['', '', 'veinti', 'treinta', 'cuarenta', 'cincuenta', 'sesenta', 'setenta', 'ochenta', 'noventa'];
const HUNDREDS = ' ciento doscientos trescientos cuatrocientos quinientos seiscientos setecientos ochocientos novecientos'.split(' ');

/** A whole number below 1000 in Spanish words. @throws RangeError beyond that; no text holds such a number. */
export function spanishNumber(value: number): string {
  if (!Number.isInteger(value) || value < 0 || value > 999) throw new RangeError(`no words for ${value}`);
  if (value <= 20) return SMALL[value] as string;
  if (value < 30) return `veinti${SMALL[value - 20]}`;
  if (value === 100) return 'cien';
  if (value > 100) return `${HUNDREDS[Math.floor(value / 100)]}${value % 100 === 0 ? '' : ` ${spanishNumber(value % 100)}`}`;
  return `${TENS[Math.floor(value / 10)]}${value % 10 === 0 ? '' : ` y ${SMALL[value % 10]}`}`;
}

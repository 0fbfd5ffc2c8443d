/**
 * Words in free notes that speak of something that does harm on a wound, in
 * English, Spanish, French and Arabic (own list). A note may well say *not* to use it; a
 * machine cannot tell, so whoever wrote it is asked to look again.
 */
const WORDS = {
  // [EV-PRA-06, common practice]
  alcohol: [
    'alcohol',
    'isopropyl',
    'isopropanol',
    'ethanol',
    'surgical spirit',
    'isopropilico',
    'etanol',
    'alcool',
    'isopropylique',
    ...['كحول', 'سبيرتو', 'ايثانول', 'ايزوبروبيل'],
  ],
  peroxide: ['peroxide', 'h2o2', 'agua oxigenada', 'peroxido', 'eau oxygenee', 'peroxyde', 'بيروكسيد', 'ماء (?:ال)?اكسجين'],
  iodine: ['iodine', 'povidone', 'yodo', 'yodada', 'yodado', 'povidona', 'iode', 'iodee', 'polyvidone', 'يود', 'بوفيدون'],
  // On a wound that must stay dry [EV-PRA-01, common practice].
  ointment: [
    ...['ointment', 'salve', 'cream', 'petroleum jelly', 'petrolatum'],
    ...['pomada', 'unguento', 'crema', 'vaselina'],
    ...['pommade', 'onguent', 'creme', 'vaseline'],
    ...['مرهم', 'مراهم', 'كريم', 'فازلين'],
  ],
} as const satisfies Record<string, readonly string[]>;

export type HarmfulWord = keyof typeof WORDS;
export const HARMFUL_WORDS = Object.keys(WORDS) as HarmfulWord[];

/** Products that say they hold none. */
const FREE_OF =
  /\b(?:alcohol|iodine)[ -]free\b|\bsin (?:alcohol|yodo)\b|\blibre de (?:alcohol|yodo)\b|\bsans (?:alcool|iode)\b|(?:خال(?:ي|ية)? من (?:ال)?|(?:بدون|بلا|دون) )(?:كحول|يود)(?!\p{L})/gu;

/** Small letters without accents, so that `PERÓXIDO` is found too, and alef with its hamza or without. */
const plain = (text: string): string => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replace(/\s+/g, ' ');

/** Arabic writes "and", "with", "for" and "the" as part of the word. */
const BEFORE = '(?:[وف]?[بكل]?(?:ال)?|[وف]?لل)';

const patterns = Object.fromEntries(
  HARMFUL_WORDS.map((kind) => [
    kind,
    new RegExp(`(?<![\\p{L}\\p{N}])${BEFORE}(?:${WORDS[kind].join('|')})(?:s|ي|ية)?(?![\\p{L}\\p{N}])`, 'u'),
  ]),
) as Record<HarmfulWord, RegExp>;

/** Which harmful things a note speaks of. */
export function harmfulIn(note: string): HarmfulWord[] {
  const text = plain(note).replace(FREE_OF, ' ');
  return HARMFUL_WORDS.filter((kind) => patterns[kind].test(text));
}

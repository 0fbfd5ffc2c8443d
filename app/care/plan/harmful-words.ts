/**
 * Words in free notes that speak of something that does harm on a wound, in
 * English, Spanish and French (own list). A note may well say *not* to use it; a
 * machine cannot tell, so whoever wrote it is asked to look again.
 */
const WORDS = {
  // [EV-PRA-06, common practice]
  alcohol: ['alcohol', 'isopropyl', 'isopropanol', 'ethanol', 'surgical spirit', 'isopropilico', 'etanol', 'alcool', 'isopropylique'],
  peroxide: ['peroxide', 'h2o2', 'agua oxigenada', 'peroxido', 'eau oxygenee', 'peroxyde'],
  iodine: ['iodine', 'povidone', 'yodo', 'yodada', 'yodado', 'povidona', 'iode', 'iodee', 'polyvidone'],
  // On a wound that must stay dry [EV-PRA-01, common practice].
  ointment: [
    ...['ointment', 'salve', 'cream', 'petroleum jelly', 'petrolatum'],
    ...['pomada', 'unguento', 'crema', 'vaselina'],
    ...['pommade', 'onguent', 'creme', 'vaseline'],
  ],
} as const satisfies Record<string, readonly string[]>;

export type HarmfulWord = keyof typeof WORDS;
export const HARMFUL_WORDS = Object.keys(WORDS) as HarmfulWord[];

/** Products that say they hold none. */
const FREE_OF = /\b(?:alcohol|iodine)[ -]free\b|\bsin (?:alcohol|yodo)\b|\blibre de (?:alcohol|yodo)\b|\bsans (?:alcool|iode)\b/g;

/** Small letters without accents, so that `PERÓXIDO` is found too. */
const plain = (text: string): string => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replace(/\s+/g, ' ');

const patterns = Object.fromEntries(
  HARMFUL_WORDS.map((kind) => [kind, new RegExp(`(?<![\\p{L}\\p{N}])(?:${WORDS[kind].join('|')})s?(?![\\p{L}\\p{N}])`, 'u')]),
) as Record<HarmfulWord, RegExp>;

/** Which harmful things a note speaks of. */
export function harmfulIn(note: string): HarmfulWord[] {
  const text = plain(note).replace(FREE_OF, ' ');
  return HARMFUL_WORDS.filter((kind) => patterns[kind].test(text));
}

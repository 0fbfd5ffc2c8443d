/**
 * Words in free notes that speak of something that does harm on a wound, in
 * English, Spanish, French, Arabic and Vietnamese (own list). A note may well say
 * *not* to use it; a machine cannot tell, so whoever wrote it is asked to look again.
 */
const WORDS = {
  // [EV-PRA-06, common practice]
  alcohol: [
    ...['alcohol', 'isopropyl', 'isopropanol', 'ethanol', 'surgical spirit'],
    ...['isopropilico', 'etanol'],
    ...['alcool', 'isopropylique'],
    ...['كحول', 'سبيرتو', 'ايثانول', 'ايزوبروبيل'],
    ...['ruou'],
  ],
  peroxide: [
    ...['peroxide', 'h2o2', 'agua oxigenada', 'peroxido', 'eau oxygenee', 'peroxyde'],
    ...['بيروكسيد', 'ماء (?:ال)?اكسجين'],
    ...['oxy gia', 'oxi gia', 'o-xy gia', 'o xy gia', 'o-xi gia', 'peroxid'],
  ],
  iodine: [
    ...['iodine', 'povidone', 'yodo', 'yodada', 'yodado', 'povidona', 'iode', 'iodee', 'polyvidone'],
    ...['يود', 'بوفيدون'],
    ...['i-ot', 'i ot', 'iot', 'iod', 'povidon', 'povidin'],
  ],
  // On a wound that must stay dry [EV-PRA-01, common practice].
  ointment: [
    ...['ointment', 'salve', 'cream', 'petroleum jelly', 'petrolatum'],
    ...['pomada', 'unguento', 'crema', 'vaselina'],
    ...['pommade', 'onguent', 'creme', 'vaseline'],
    ...['مرهم', 'مراهم', 'كريم', 'فازلين'],
    ...['thuoc mo', 'pomat', 'po-mat', 'vaselin'],
  ],
} as const satisfies Record<string, readonly string[]>;

export type HarmfulWord = keyof typeof WORDS;
export const HARMFUL_WORDS = Object.keys(WORDS) as HarmfulWord[];

/**
 * Vietnamese words that without their marks are others: `cồn`, alcohol, and
 * `còn`, still; `kem`, cream, and `kém`, less, or `kẽm`, zinc.
 */
const MARKED: Partial<Record<HarmfulWord, readonly string[]>> = { alcohol: ['cồn'], ointment: ['kem'] };

/** Products that say they hold none. */
const FREE_OF = new RegExp(
  [
    /\b(?:alcohol|iodine)[ -]free\b/u,
    /\bsin (?:alcohol|yodo)\b|\blibre de (?:alcohol|yodo)\b/u,
    /\bsans (?:alcool|iode)\b/u,
    /(?:خال(?:ي|ية)? من (?:ال)?|(?:بدون|بلا|دون) )(?:كحول|يود)(?!\p{L})/u,
    /\bkhong (?:chua |co )?(?:ruou|i-?ot|iod)\b/u,
  ]
    .map(({ source }) => source)
    .join('|'),
  'gu',
);
const MARKED_FREE_OF = /(?<!\p{L})không (?:chứa |có )?cồn(?!\p{L})/gu;

const small = (text: string): string => text.normalize('NFC').toLowerCase().replace(/\s+/g, ' ');
/** Small letters without accents, so that `PERÓXIDO` is found too, and alef with its hamza or without. */
const plain = (text: string): string => small(text).normalize('NFKD').replace(/\p{M}/gu, '');

/** Arabic writes "and", "with", "for" and "the" as part of the word. */
const BEFORE = '(?:[وف]?[بكل]?(?:ال)?|[وف]?لل)';
/** The English, Spanish and French plural, and what makes an adjective of an Arabic word. */
const AFTER = '(?:s|ي|ية)?';

const anyOf = (list: readonly string[]): RegExp =>
  new RegExp(`(?<![\\p{L}\\p{N}])${BEFORE}(?:${list.join('|')})${AFTER}(?![\\p{L}\\p{N}])`, 'u');
const patterns = HARMFUL_WORDS.map((kind) => ({ kind, plain: anyOf(WORDS[kind]), marked: MARKED[kind] && anyOf(MARKED[kind]) }));

/** Which harmful things a note speaks of. */
export function harmfulIn(note: string): HarmfulWord[] {
  const unmarked = plain(note).replace(FREE_OF, ' ');
  const marked = small(note).replace(MARKED_FREE_OF, ' ');
  return patterns.filter((p) => p.plain.test(unmarked) || p.marked?.test(marked)).map((p) => p.kind);
}

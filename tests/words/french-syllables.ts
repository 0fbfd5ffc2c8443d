/** Words in -ent that are no verb forms in the plural and keep the sound of -ent. */
const NASAL_ENT =
  /(?:ment|^(?:souvent|content|récent|urgent|argent|client|accident|absent|présent|dent|vent|cent|lent|fréquent|parent|évident|différent))$/;
const VOWEL = 'aàâeéèêëiîïoôœuùûüy';
/** One sound of several letters, or one vowel. */
const CORE = `(?:eau|aoû|œu|oeu|au|aî|ai|ay|eî|ei|ey|eû|eu|oî|oi|oy|où|oû|ou|[${VOWEL}])`;
/** i, u, y and ou before a vowel lean on it, but not after two consonants such as in `oublier`; `ui` is always one sound. */
const NUCLEUS = new RegExp(`u[iî]|(?<![bcdfgkptv][lr])(?:ou|[iuy])(?=[${VOWEL}])${CORE}|${CORE}`, 'g');

/**
 * Syllables of a French word as said with care, by our own rules: a mute e is
 * none at the end of a word (`plaie`, `gauche`, `montrent`) and one within it
 * (`pan-se-ment`); i, u and ou before a vowel make none of their own (`pied`,
 * `nuit`, `jouer`); an elided word goes with the next (`l’eau`).
 */
export function frenchSyllables(word: string): number {
  const parts = word.toLowerCase().normalize('NFC').split(/[’']/);
  return Math.max(
    1,
    parts.map(nucleiOf).reduce((sum, n) => sum + n, 0),
  );
}

function nucleiOf(part: string): number {
  const said = part
    .replace(/qu/g, 'k')
    .replace(/gu(?=[eéèêiîy])/g, 'g')
    .replace(/ge(?=[aâoô])/g, 'j')
    // `ill` and a last `il` after a vowel, and y between vowels, are the consonant of `yeux`.
    .replace(new RegExp(`(?<=[aeouœ])(?:ill|il(?=s?$)|y(?=[${VOWEL}]))`, 'g'), 'j')
    .replace(/(?<=[aiouy])e(?=ment)/g, '');
  const shortened = said.replace(NASAL_ENT.test(said) ? /(?:e|es)$/ : /(?:e|es|ent)$/, '');
  return shortened.match(NUCLEUS)?.length ?? said.match(NUCLEUS)?.length ?? 0;
}

const SMALL =
  'zéro un deux trois quatre cinq six sept huit neuf dix onze douze treize quatorze quinze seize dix-sept dix-huit dix-neuf'.split(' ');
const TENS = ['', '', 'vingt', 'trente', 'quarante', 'cinquante', 'soixante', 'soixante', 'quatre-vingt', 'quatre-vingt'];

/** A whole number below 1000 in French words, as in France. @throws RangeError beyond that; no text holds such a number. */
export function frenchNumber(value: number): string {
  if (!Number.isInteger(value) || value < 0 || value > 999) throw new RangeError(`no words for ${value}`);
  if (value >= 100) {
    const hundreds = value < 200 ? 'cent' : `${SMALL[Math.floor(value / 100)]} cent${value % 100 === 0 ? 's' : ''}`;
    return value % 100 === 0 ? hundreds : `${hundreds} ${frenchNumber(value % 100)}`;
  }
  if (value < 20) return SMALL[value] as string;
  if (value === 80) return 'quatre-vingts';
  const ten = Math.floor(value / 10);
  // Sixty and eighty count on to nineteen.
  const rest = value - (ten === 7 || ten === 9 ? ten - 1 : ten) * 10;
  if (rest === 0) return TENS[ten] as string;
  const joined = (rest === 1 || rest === 11) && ten < 8 ? ' et ' : '-';
  return `${TENS[ten]}${joined}${SMALL[rest]}`;
}

import { fromBase64Url } from './bytes.ts';
import { CHECK_WORD_LISTS, type CheckWordLanguage } from './check-word-lists.ts';
import { COORDINATE_BYTES, own, type PublicKey, utf8 } from './signature.ts';

/** How many words a person compares; each stands for 8 bits, 32 in all. */
export const CHECK_WORDS = 4;
/**
 * Rounds of PBKDF2. 32 bits alone could be searched for another key with the
 * same words in an hour; this makes each try as slow as a guess at a
 * passphrase [OWASP: 600,000 rounds].
 */
const ROUNDS = 600_000;
const SALT = 'Tendbook check words 1';

/** The language of the words: that of the plan's person where there is a list, else English. */
export const checkWordLanguage = (language: string): CheckWordLanguage => {
  const main = language.toLowerCase().split('-')[0] ?? '';
  return Object.hasOwn(CHECK_WORD_LISTS, main) ? (main as CheckWordLanguage) : 'en';
};

/**
 * Four easy words that stand for a clinic's public key, the same on the
 * printed page and on the phone. They say that both speak of one key; they do
 * not say who holds it.
 * @param language a language tag; both sides must use the same, that of the plan's person.
 * @throws RangeError for a key that is none.
 */
export async function checkWords(key: PublicKey, language: string): Promise<string[]> {
  const [x, y] = [key.x, key.y].map(fromBase64Url);
  if (x?.length !== COORDINATE_BYTES || y?.length !== COORDINATE_BYTES) throw new RangeError('not a public key');
  const base = await crypto.subtle.importKey('raw', own(Uint8Array.of(...x, ...y)), 'PBKDF2', false, ['deriveBits']);
  const rule = { name: 'PBKDF2', hash: 'SHA-256', salt: utf8(SALT), iterations: ROUNDS };
  const bits = new Uint8Array(await crypto.subtle.deriveBits(rule, base, CHECK_WORDS * 8));
  const words = CHECK_WORD_LISTS[checkWordLanguage(language)];
  return [...bits].map((byte) => words[byte] as string);
}

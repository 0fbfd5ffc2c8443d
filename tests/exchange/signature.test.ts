import { createHash, pbkdf2Sync } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { CHECK_WORD_LISTS, type CheckWordLanguage } from '../../app/exchange/check-word-lists.ts';
import { checkWordLanguage, checkWords } from '../../app/exchange/check-words.ts';
import { makeKeys, openKeys } from '../../app/exchange/clinic-keys.ts';
import { openSigned, signPlan } from '../../app/exchange/envelope.ts';
import { PASSPHRASE_LEAST, PASSPHRASE_ROUNDS } from '../../app/exchange/passphrase.ts';
import { type ClinicKeys, keyIdOf, readPublicKey, sign, verify } from '../../app/exchange/signature.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { clinic, PASSPHRASE } from './make.ts';

let keys: ClinicKeys;
let file: string;
beforeAll(async () => {
  ({ keys, file } = await clinic());
});

/** The key file with one field changed. */
const changed = (path: string, value: unknown): string => {
  const content = JSON.parse(file) as Record<string, Record<string, unknown>>;
  const [outer, inner] = path.split('.') as [string, string | undefined];
  if (inner === undefined) (content as Record<string, unknown>)[outer] = value;
  else (content[outer] as Record<string, unknown>)[inner] = value;
  return JSON.stringify(content);
};

describe('a clinic’s key pair', () => {
  test('signs, and its private half cannot be read out', async () => {
    expect(await verify('text', await sign('text', keys), keys.publicKey)).toBe(true);
    expect(await verify('text.', await sign('text', keys), keys.publicKey)).toBe(false);
    expect(keys.privateKey.extractable).toBe(false);
    await expect(crypto.subtle.exportKey('jwk', keys.privateKey)).rejects.toThrow();
    await expect(crypto.subtle.exportKey('pkcs8', keys.privateKey)).rejects.toThrow();
  });

  test('the public half holds nothing but the point', () => {
    expect(Object.keys(keys.publicKey).sort()).toEqual(['crv', 'kty', 'x', 'y']);
  });

  test('is named by the first eight bytes of its thumbprint (RFC 7638), and a copy in the store keeps its use', async () => {
    const { x, y } = keys.publicKey;
    const print = createHash('sha256').update(`{"crv":"P-256","kty":"EC","x":"${x}","y":"${y}"}`).digest();
    expect(await keyIdOf(keys.publicKey)).toBe(print.subarray(0, 8).toString('base64url'));
    expect(keys.keyId).toBe(print.subarray(0, 8).toString('base64url'));
  });

  test('two pairs are two', async () => {
    expect((await makeKeys(PASSPHRASE)).keys.keyId).not.toBe(keys.keyId);
  });

  test.each([
    undefined,
    null,
    'x',
    {},
    { kty: 'EC', crv: 'P-384', x: 'A'.repeat(43), y: 'A'.repeat(43) },
    { kty: 'OKP', crv: 'Ed25519', x: 'A'.repeat(43) },
    { kty: 'EC', crv: 'P-256', x: 'A'.repeat(43) },
    { kty: 'EC', crv: 'P-256', x: 'A'.repeat(42), y: 'A'.repeat(43) },
    { kty: 'EC', crv: 'P-256', x: 5, y: 6 },
    { kty: 'EC', crv: 'P-256', x: `${'A'.repeat(42)}B`, y: 'A'.repeat(43) },
  ])('%j is no public key', (content) => {
    expect(readPublicKey(content)).toBeUndefined();
  });

  test('a private key given for a public one gives away only the public half', () => {
    expect(readPublicKey({ ...keys.publicKey, d: 'A'.repeat(43), key_ops: ['sign'] })).toEqual(keys.publicKey);
  });
});

describe('the locked key file', () => {
  test('brings the same pair to a second device, where it cannot be read out either', async () => {
    const arrival = await openKeys(file, PASSPHRASE);
    expect(arrival.ok).toBe(true);
    if (!arrival.ok) return;
    expect([arrival.keys.keyId, arrival.keys.publicKey]).toEqual([keys.keyId, keys.publicKey]);
    expect(arrival.keys.privateKey.extractable).toBe(false);
    expect(await openSigned(await signPlan(demoPlan(), arrival.keys), [keys.publicKey])).toMatchObject({ ok: true, sender: 'trusted' });
  });

  test('names how it is locked: 600,000 rounds of PBKDF2-SHA-256 [OWASP], AES-GCM', () => {
    const content = JSON.parse(file) as { lock: Record<string, unknown>; cipher: Record<string, unknown> };
    expect(content.lock).toMatchObject({ name: 'PBKDF2', hash: 'SHA-256', iterations: 600_000 });
    expect(content.cipher).toMatchObject({ name: 'AES-GCM' });
    expect(PASSPHRASE_ROUNDS).toBe(600_000);
  });

  test('no two files share salt or start', async () => {
    const parts = [file, (await makeKeys(PASSPHRASE)).file].map((f) => JSON.parse(f) as { lock: { salt: string }; cipher: { iv: string } });
    expect(parts[0]?.lock.salt).not.toBe(parts[1]?.lock.salt);
    expect(parts[0]?.cipher.iv).not.toBe(parts[1]?.cipher.iv);
  });

  test('does not open with another passphrase', async () => {
    for (const wrong of ['', 'four herons over the mil', `${PASSPHRASE} `, PASSPHRASE.toUpperCase()]) {
      expect(await openKeys(file, wrong)).toEqual({ ok: false, why: 'wrongPassphrase' });
    }
  });

  test('a passphrase typed with composed or combining accents is the same', async () => {
    const own = await makeKeys('garza sobre el río');
    expect((await openKeys(own.file, 'garza sobre el ri\u0301o')).ok).toBe(true);
  });

  test('another public key in the file does not open, so nobody signs in another clinic’s name', async () => {
    const other = (await makeKeys(PASSPHRASE)).keys.publicKey;
    expect(await openKeys(changed('publicKey', other), PASSPHRASE)).toEqual({ ok: false, why: 'wrongPassphrase' });
  });

  test.each<[string, unknown, string]>([
    ['tendbook', 'plan', 'notKeys'],
    ['version', 2, 'newerVersion'],
    ['version', '1', 'damaged'],
    ['lock.iterations', 1, 'damaged'],
    ['lock.iterations', 599_999, 'damaged'],
    ['lock.iterations', 10 ** 12, 'damaged'],
    ['lock.iterations', 600_000.5, 'damaged'],
    ['lock.hash', 'SHA-1', 'damaged'],
    ['lock.name', 'none', 'damaged'],
    ['lock.salt', 'AA', 'damaged'],
    ['cipher.name', 'AES-CBC', 'damaged'],
    ['cipher.iv', '', 'damaged'],
    ['locked', '!!', 'damaged'],
    ['locked', 'AAAA', 'wrongPassphrase'],
    ['publicKey', null, 'damaged'],
  ])('with %s changed to %j: %s', async (path, value, why) => {
    expect(await openKeys(changed(path, value), PASSPHRASE)).toEqual({ ok: false, why });
  });

  test.each(['', 'x', '[]', 'null', '{"__proto__":{"tendbook":"clinicKeys"}}', `{"a":"${'x'.repeat(20_000)}"}`])(
    '%.40s is no key file',
    async (text) => {
      expect(await openKeys(text, PASSPHRASE)).toEqual({ ok: false, why: 'notKeys' });
    },
  );

  test('a passphrase that anybody guesses is refused', async () => {
    await expect(makeKeys('x'.repeat(PASSPHRASE_LEAST - 1))).rejects.toThrow(RangeError);
  });
});

describe('check words', () => {
  test('are the bytes of PBKDF2 over the point, as Node computes it', async () => {
    const { x, y } = keys.publicKey;
    const point = Buffer.concat([Buffer.from(x, 'base64url'), Buffer.from(y, 'base64url')]);
    const bytes = pbkdf2Sync(point, 'Tendbook check words 1', 600_000, 4, 'sha256');
    for (const language of ['en', 'es', 'fr', 'ar', 'vi'] as const) {
      expect(await checkWords(keys.publicKey, language)).toEqual([...bytes].map((b) => CHECK_WORD_LISTS[language][b]));
    }
  });

  test('are the same for ever for one key: printed pages hold them', async () => {
    // The public key of RFC 7515, appendix A.3.
    const key = {
      kty: 'EC',
      crv: 'P-256',
      x: 'f83OJ3D2xF1Bg8vub9tLe1gHMzV76e8Tus9uPHvRVEU',
      y: 'x_FEzRu9m36HLN_tue659LNpXW6pCyStikYjKIWI5a0',
    } as const;
    expect(await checkWords(key, 'en')).toEqual(FIXED.en);
    expect(await checkWords(key, 'es')).toEqual(FIXED.es);
    expect(await checkWords(key, 'fr')).toEqual(FIXED.fr);
    expect(await checkWords(key, 'ar')).toEqual(FIXED.ar);
    expect(await checkWords(key, 'vi')).toEqual(FIXED.vi);
  });

  test('follow the language of the plan, English where there is no list', () => {
    expect(['es', 'es-MX', 'ES', 'fr-CA', 'ar-EG', 'vi-VN', 'en-GB', 'tlh', '', '__proto__', 'constructor'].map(checkWordLanguage)).toEqual(
      ['es', 'es', 'es', 'fr', 'ar', 'vi', 'en', 'en', 'en', 'en', 'en'],
    );
  });

  test('no key, no words', async () => {
    await expect(checkWords({ ...keys.publicKey, x: 'A' }, 'en')).rejects.toThrow(RangeError);
  });

  test.each(Object.entries(CHECK_WORD_LISTS) as [CheckWordLanguage, readonly string[]][])(
    'the list in %s has 256 plain words',
    (language, words) => {
      expect(words).toHaveLength(256);
      expect(new Set(words).size).toBe(256);
      expect(words.filter((w) => w !== w.normalize('NFC') || !PLAIN[language].test(language === 'vi' ? asSeen(w) : w))).toEqual([]);
    },
  );

  test.each(Object.entries(CHECK_WORD_LISTS))('no two words in %s are one slip of a letter apart', (_language, words) => {
    const near = words.flatMap((a, i) =>
      words
        .slice(i + 1)
        .filter((b) => withinOneSlip(asSeen(a), asSeen(b)))
        .map((b) => `${a} ${b}`),
    );
    expect(near).toEqual([]);
    expect([
      withinOneSlip('cart', 'card'),
      withinOneSlip('cart', 'cat'),
      withinOneSlip('cat', 'cart'),
      withinOneSlip('cart', 'cord'),
    ]).toEqual([true, true, true, false]);
  });
});

/** What a word may look like: one short word; in Vietnamese, its marks left out, two syllables. */
const PLAIN: Record<CheckWordLanguage, RegExp> = {
  en: /^[a-z]{3,8}$/,
  es: /^[a-z]{3,8}$/,
  fr: /^[a-z]{3,8}$/,
  ar: /^[ء-ي]{3,8}$/,
  vi: /^[a-z]{2,6} [a-z]{2,6}$/,
};

/**
 * A word as poor eyes see it or as it is often written: Vietnamese without its
 * marks; Arabic with no hamza on an alef and no dots on a last letter.
 */
const asSeen = (word: string): string => {
  const arabic = word.replace(/[أإآ]/g, 'ا').replace(/ة$/, 'ه').replace(/ى$/, 'ي');
  // U+0300 to U+036F: the marks of Latin letters.
  return arabic
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/đ/g, 'd');
};

/** Whether one letter changed, added or dropped makes one word of the other. */
function withinOneSlip(a: string, b: string): boolean {
  if (Math.abs(a.length - b.length) > 1) return false;
  const [long, short] = a.length >= b.length ? [a, b] : [b, a];
  let at = 0;
  while (at < short.length && long[at] === short[at]) at++;
  return long.slice(at + 1) === short.slice(a.length === b.length ? at + 1 : at);
}

/** Taken when the lists were made; the test above holds the bytes against Node. */
const FIXED = {
  en: ['tulip', 'ticket', 'stadium', 'journey'],
  es: ['tinta', 'teatro', 'remo', 'granja'],
  ar: ['موز', 'ملك', 'مصباح', 'شاحنة'],
  fr: ['timbre', 'tapis', 'samedi', 'hibou'],
  vi: ['trống đồng', 'thuyền buồm', 'tàu thủy', 'đường phèn'],
};

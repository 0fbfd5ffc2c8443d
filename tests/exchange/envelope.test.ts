import { createHash, webcrypto } from 'node:crypto';
import { deflateRawSync, inflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Plan } from '../../app/care/plan/plan.ts';
import { pack, toBase64Url, UNPACKED_MOST, unpack } from '../../app/exchange/bytes.ts';
import { makeKeys } from '../../app/exchange/clinic-keys.ts';
import { DICTIONARY_NOW, dictionaryOf } from '../../app/exchange/dictionary.ts';
import { toDigits } from '../../app/exchange/digits.ts';
import { fold, openSigned, signedDigits, signPlan } from '../../app/exchange/envelope.ts';
import { arrivalFromText, planFromText, planLink, planToCode, planToFile, signedToFile } from '../../app/exchange/plan-file.ts';
import { planToJson } from '../../app/exchange/plan-json.ts';
import { type ClinicKeys, type PublicKey, sign, verify } from '../../app/exchange/signature.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { ADDRESS, clinic, largestPlan, smallPlan, typicalPlan } from './make.ts';

const dictionary = dictionaryOf(DICTIONARY_NOW) as Uint8Array;
const b64 = (text: string | Uint8Array): string => Buffer.from(text).toString('base64url');

let keys: ClinicKeys;
let others: ClinicKeys;
let jws: string;
beforeAll(async () => {
  keys = (await clinic()).keys;
  others = (await makeKeys('another passphrase')).keys;
  jws = await signPlan(demoPlan(), keys);
});

/** Signs anything with the clinic's own key, as a broken or hostile desk might. */
async function forge(header: Record<string, unknown>, payload: Uint8Array, own = keys): Promise<string> {
  const signed = `${b64(JSON.stringify(header))}.${b64(payload)}`;
  return `${signed}.${toBase64Url(await sign(signed, own))}`;
}
const header = (more: Record<string, unknown> = {}, own = keys): Record<string, unknown> => ({
  alg: 'ES256',
  zip: 'DEF',
  kid: own.keyId,
  jwk: own.publicKey,
  ...more,
});
const refused = (why: string) => ({ ok: false, why });

describe('a signed plan', () => {
  test('is the plan at the other end, whatever the carrier', async () => {
    for (const plan of [smallPlan(), demoPlan(), typicalPlan(), largestPlan()]) {
      const own = await signPlan(plan, keys);
      const arrived = { ok: true, plan, sender: 'trusted', keyId: keys.keyId, key: keys.publicKey };
      for (const text of [own, planLink(own, ADDRESS), signedToFile(own), `Your plan: ${planLink(own, ADDRESS)} .`]) {
        expect(await arrivalFromText(text, [keys.publicKey])).toEqual(arrived);
      }
    }
    const digits = signedDigits(jws) as string;
    expect(digits).toMatch(/^s\d+$/);
    for (const text of [digits, planLink(digits, ADDRESS), digits.replace(/(.{50})/g, '$1\n')]) {
      expect(await arrivalFromText(text, [])).toMatchObject({ ok: true, plan: demoPlan(), sender: 'first' });
    }
  });

  test('tells whose it is: trusted, the first one, or another', async () => {
    const sender = async (trusted: readonly PublicKey[]) => {
      const arrival = await openSigned(jws, trusted);
      return arrival.ok && arrival.sender;
    };
    expect(await sender([])).toBe('first');
    expect(await sender([keys.publicKey])).toBe('trusted');
    expect(await sender([others.publicKey, keys.publicKey])).toBe('trusted');
    expect(await sender([others.publicKey])).toBe('other');
  });

  test('without the key is opened only by who knows the key', async () => {
    const short = await signPlan(demoPlan(), keys, false);
    expect(short.length).toBeLessThan(jws.length);
    for (const text of [short, signedDigits(short) as string]) {
      expect(await openSigned(text, [others.publicKey, keys.publicKey])).toMatchObject({ ok: true, sender: 'trusted', plan: demoPlan() });
      expect(await openSigned(text, [others.publicKey])).toEqual(refused('unknownKey'));
      expect(await openSigned(text, [])).toEqual(refused('unknownKey'));
    }
  });

  test('an unsigned plan still arrives, and is told as unsigned', async () => {
    for (const text of [planToCode(demoPlan()), planToFile(demoPlan())]) {
      expect(await arrivalFromText(text, [keys.publicKey])).toEqual({ ok: true, plan: demoPlan(), sender: 'unsigned' });
    }
  });

  test('is only recognised, never given out, where the signature is not checked', async () => {
    expect(planFromText(planLink(jws, ADDRESS))).toEqual({ ok: false, why: 'signed', signed: jws });
    expect(planFromText(signedToFile(jws))).toEqual({ ok: false, why: 'signed', signed: jws });
    expect(planFromText(signedDigits(jws) as string)).toMatchObject({ ok: false, why: 'signed' });
    expect(planFromText('{"tendbook":"signedPlan","plan":{"version":1}}')).toEqual(refused('damaged'));
    expect(planFromText('{"tendbook":"signedPlan"}')).toEqual(refused('damaged'));
  });

  test('what is no plan is not signed', async () => {
    await expect(signPlan({ ...demoPlan(), wounds: [] } as Plan, keys)).rejects.toThrow(RangeError);
  });
});

describe('the payload, against Node’s zlib', () => {
  test('zlib reads what is packed with the dictionary', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 400 }), (text) => {
        expect(inflateRawSync(pack(text, dictionary), { dictionary }).toString('utf8')).toBe(text);
      }),
    );
    const json = planToJson(demoPlan());
    expect(inflateRawSync(pack(json, dictionary), { dictionary }).toString('utf8')).toBe(json);
  });

  test('what zlib packed with the dictionary is read, at any level', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 400 }), fc.integer({ min: 0, max: 9 }), (text, level) => {
        expect(unpack(deflateRawSync(Buffer.from(text), { level, dictionary }), undefined, dictionary)).toBe(text);
      }),
    );
  });

  test('plain deflate by zlib, without a dictionary, is read too', async () => {
    const own = await forge(header(), deflateRawSync(planToJson(demoPlan())));
    expect(await openSigned(own, [])).toMatchObject({ ok: true, plan: demoPlan() });
  });

  test('the dictionary is frozen: a plan signed today must open in years', () => {
    expect(createHash('sha256').update(dictionary).digest('hex')).toBe(DICTIONARY_HASH);
    expect(dictionaryOf(2)).toBeUndefined();
  });

  test('a bomb is refused, signed or not', async () => {
    const bomb = deflateRawSync(Buffer.alloc(50_000_000, 0x20));
    expect(bomb.length).toBeLessThan(60_000);
    expect(await openSigned(await forge(header(), bomb), [])).toEqual(refused('damaged'));
    const inDictionary = deflateRawSync(Buffer.alloc(UNPACKED_MOST + 1, 0x20), { dictionary });
    expect(await openSigned(await forge(header({ dct: 1 }), inDictionary), [])).toEqual(refused('damaged'));
    const [head] = jws.split('.');
    expect(await openSigned(`${head}.${b64(bomb)}.${b64(new Uint8Array(64))}`, [])).toEqual(refused('altered'));
  });
});

describe('what was changed on the way is refused', () => {
  const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
  const changed = (text: string, at: number): string => {
    const sign = letters[(letters.indexOf(text[at] as string) + 1 + (at % 62)) % 64] as string;
    return text.slice(0, at) + sign + text.slice(at + 1);
  };

  test('a letter of the header, the payload or the signature, wherever it is', async () => {
    for (let at = 0; at < jws.length; at += 5) {
      if (jws[at] === '.') continue;
      const arrival = await openSigned(changed(jws, at), [keys.publicKey]);
      expect([at, arrival.ok]).toEqual([at, false]);
    }
    const [head, payload, tail] = jws.split('.') as [string, string, string];
    expect(await openSigned(`${head}.${changed(payload, 40)}.${tail}`, [])).toEqual(refused('altered'));
    expect(await openSigned(`${head}.${payload}.${changed(tail, 40)}`, [])).toEqual(refused('altered'));
  });

  test('a digit of a code', async () => {
    const digits = signedDigits(jws) as string;
    for (let at = 1; at < digits.length; at += 23) {
      const other = digits.slice(0, at) + ((Number(digits[at]) + 1) % 10 || 1) + digits.slice(at + 1);
      if (other !== digits) expect((await openSigned(other, [keys.publicKey])).ok).toBe(false);
    }
  });

  test('a plan under the signature of another plan, or of nobody', async () => {
    const [head, , tail] = jws.split('.') as [string, string, string];
    const [, payload] = (await signPlan(typicalPlan(), keys)).split('.') as [string, string, string];
    expect(await openSigned(`${head}.${payload}.${tail}`, [])).toEqual(refused('altered'));
    expect(await openSigned(`${head}.${payload}.`, [])).toEqual(refused('altered'));
    expect(await openSigned(`${head}.${payload}.${b64(new Uint8Array(64))}`, [])).toEqual(refused('altered'));
  });

  test.each(['none', 'NONE', 'HS256', 'ES384', 'RS256', 'es256', '', null, 5, ['ES256']])('algorithm %j', async (alg) => {
    expect(await openSigned(await forge(header({ alg }), pack(planToJson(demoPlan()))), [])).toEqual(refused('altered'));
  });

  test('no signature at all under algorithm none', async () => {
    const own = `${b64(JSON.stringify(header({ alg: 'none' })))}.${b64(pack(planToJson(demoPlan())))}.`;
    expect(await openSigned(own, [keys.publicKey])).toEqual(refused('altered'));
  });

  test('a key of another curve, a private key’s shape, a point off the curve', async () => {
    const pair = await webcrypto.subtle.generateKey({ name: 'ECDSA', namedCurve: 'P-384' }, true, ['sign', 'verify']);
    const jwk = await webcrypto.subtle.exportKey('jwk', pair.publicKey);
    const payload = pack(planToJson(demoPlan()));
    expect(await openSigned(await forge(header({ jwk }), payload), [])).toEqual(refused('altered'));
    expect(await openSigned(await forge(header({ jwk: { ...jwk, crv: 'P-256' } }), payload), [])).toEqual(refused('altered'));
    const off = { ...keys.publicKey, y: b64(new Uint8Array(32).fill(7)) };
    expect(await openSigned(await forge(header({ jwk: off }), payload), [])).toEqual(refused('altered'));
    expect(await verify('x', new Uint8Array(64), off)).toBe(false);
  });

  test('another key under the name of the trusted one', async () => {
    const payload = pack(planToJson(demoPlan()));
    const own = await forge(header({ kid: keys.keyId }, others), payload, others);
    expect(await openSigned(own, [keys.publicKey])).toEqual(refused('altered'));
    const named = await forge(header({ kid: keys.keyId, jwk: undefined }), payload, others);
    expect(await openSigned(named, [keys.publicKey])).toEqual(refused('altered'));
  });
});

describe('what cannot be read is refused, and the reason fits', () => {
  test.each([
    ['a header that must be understood', { crit: ['exp'] }],
    ['an unencoded payload', { b64: false }],
    ['no compression named', { zip: undefined }],
    ['another compression', { zip: 'BR' }],
    ['a dictionary this app does not have', { dct: 9 }],
    ['a dictionary by name', { dct: 'x' }],
  ])('%s', async (_name, more) => {
    expect(await openSigned(await forge(header(more), pack(planToJson(demoPlan()))), [])).toEqual(refused('newerVersion'));
  });

  test('a plan of a newer version, one with faults, something else', async () => {
    const signed = async (content: unknown) => openSigned(await forge(header(), pack(JSON.stringify(content))), []);
    expect(await signed({ tendbook: 'plan', plan: { version: 2 } })).toEqual(refused('newerVersion'));
    expect(await signed({ tendbook: 'plan', plan: { ...demoPlan(), wounds: [] } })).toEqual({
      ok: false,
      why: 'faults',
      faults: [{ path: ['wounds'], fault: 'empty' }],
    });
    expect(await signed({ tendbook: 'log' })).toEqual(refused('notAPlan'));
    expect(await signed([1])).toEqual(refused('notAPlan'));
    expect(await openSigned(await forge(header(), Buffer.from('no deflate')), [])).toEqual(refused('damaged'));
  });

  test.each(['', 'a', 'a.b', 'a.b.c.d', '..', 'eyJ.eyJ.eyJ', 'eyJhbGciOiJFUzI1NiJ9.x.y', `s${'1'.repeat(150)}`, `s${'9'.repeat(70_000)}`])(
    '%.40s',
    async (text) => {
      expect((await openSigned(text, [])).ok).toBe(false);
    },
  );

  test('a JWS cut off anywhere', async () => {
    for (let end = 0; end < jws.length; end += 17) expect((await openSigned(jws.slice(0, end), [])).ok).toBe(false);
  });

  test('a text beyond all sizes', async () => {
    expect(await openSigned(`${'a'.repeat(200_000)}.${'a'.repeat(200_000)}.a`, [])).toEqual(refused('damaged'));
  });

  test('an odd spelling of the same bytes: the text itself is what was signed', async () => {
    const [head, payload, tail] = jws.split('.') as [string, string, string];
    // 64 bytes leave four spare bits in the last letter; 32 of them make the same bytes in another spelling.
    const spelling = tail.slice(0, -1) + letters32(tail.at(-1) as string);
    expect(Buffer.from(spelling, 'base64url')).toEqual(Buffer.from(tail, 'base64url'));
    expect(await openSigned(`${head}.${payload}.${spelling}`, [])).toEqual(refused('damaged'));
  });

  test('a JWS made elsewhere cannot be shortened, for its header would not come back', async () => {
    expect(fold(await forge(header(), pack('x')))).toBeUndefined();
    expect(signedDigits(await forge(header({ dct: 1, more: 1 }), pack('x')))).toBeUndefined();
    for (const text of ['', 'a.b.c', '..', jws.slice(0, -4)]) expect(fold(text)).toBeUndefined();
    expect(await openSigned(`s${toDigits(Uint8Array.of(3, ...new Uint8Array(200)))}`, [])).toEqual(refused('damaged'));
  });
});

/** The next letter of base64url: of the last letter of 64 bytes only the two leading bits count. */
function letters32(last: string): string {
  const alphabet = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
  return alphabet[alphabet.indexOf(last) + 1] as string;
}

/** SHA-256 of dictionary 1, taken when it was made. */
const DICTIONARY_HASH = 'a2d5166435e51d167ccebeca00b06671eda7e97cb295e3e058dd7aab32ad5eae';

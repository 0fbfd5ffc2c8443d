import { deflateRawSync, gzipSync, inflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  crc32,
  fromBase64,
  fromBase64Url,
  pack,
  seal,
  toBase64,
  toBase64Url,
  UNPACKED_MOST,
  unpack,
  unseal,
} from '../../app/exchange/bytes.ts';

/** Texts as JSON holds them: any letters, some of them long and repetitive. Reference throughout: Node's zlib and Buffer. */
const texts = fc.oneof(
  fc.string({ unit: 'grapheme', maxLength: 300 }),
  fc.tuple(fc.string({ minLength: 1, maxLength: 20 }), fc.integer({ min: 1, max: 500 })).map(([part, times]) => part.repeat(times)),
  fc.json(),
);
const bytes = (text: string): Buffer => Buffer.from(text, 'utf8');

describe('base64 (RFC 4648, section 4), against Buffer', () => {
  test('is written and read as Buffer does, of any length', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 500 }), (own) => {
        expect(toBase64(own)).toBe(Buffer.from(own).toString('base64'));
        expect(fromBase64(toBase64(own))).toEqual(own);
      }),
    );
    const large = Uint8Array.from({ length: 200_001 }, (_, i) => (i * 7) % 256);
    expect(toBase64(large)).toBe(Buffer.from(large).toString('base64'));
    expect(fromBase64(toBase64(large))).toEqual(large);
  });

  test.each(['a', 'ab', 'abc', 'abcde===', 'ab=c', 'ab-_', 'a b=', 'abcd\n', '===='])('%j is refused', (text) => {
    expect(fromBase64(text)).toBeUndefined();
  });
});

describe('base64url (RFC 4648, section 5), against Buffer', () => {
  test('is written as Buffer writes it', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 500 }), (own) => {
        expect(toBase64Url(own)).toBe(Buffer.from(own).toString('base64url'));
      }),
    );
  });

  test('reads what Buffer writes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 500 }), (own) => {
        expect(fromBase64Url(Buffer.from(own).toString('base64url'))).toEqual(own);
      }),
    );
  });

  test('the vectors of RFC 4648, section 10, without padding', () => {
    const vectors = { '': '', f: 'Zg', fo: 'Zm8', foo: 'Zm9v', foob: 'Zm9vYg', fooba: 'Zm9vYmE', foobar: 'Zm9vYmFy' };
    for (const [plain, code] of Object.entries(vectors)) {
      expect(toBase64Url(bytes(plain))).toBe(code);
      expect(Buffer.from(fromBase64Url(code) ?? []).toString()).toBe(plain);
    }
  });

  test.each(['a', 'abcde', 'ab+/', 'ab==', 'a b', 'é', 'ab\n', '%20'])('%j is refused', (text) => {
    expect(fromBase64Url(text)).toBeUndefined();
  });

  test('no text makes it throw', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const read = fromBase64Url(text);
        expect(read === undefined || read instanceof Uint8Array).toBe(true);
      }),
      { numRuns: 500 },
    );
  });
});

describe('raw deflate (RFC 1951), against Node’s zlib', () => {
  test('zlib reads what is packed', () => {
    fc.assert(
      fc.property(texts, (text) => {
        expect(inflateRawSync(pack(text)).toString('utf8')).toBe(text);
      }),
    );
  });

  test('what zlib packed is read, at any level', () => {
    fc.assert(
      fc.property(texts, fc.integer({ min: 0, max: 9 }), (text, level) => {
        expect(unpack(deflateRawSync(bytes(text), { level }))).toBe(text);
      }),
    );
  });

  test('a text packed and unpacked is the same text', () => {
    fc.assert(
      fc.property(texts, (text) => {
        expect(unpack(pack(text))).toBe(text);
      }),
    );
  });

  test('a text longer than a deflate window comes back whole', () => {
    const text = Array.from({ length: 20_000 }, (_, i) => `${i * 7919} `).join('');
    expect(text.length).toBeGreaterThan(100_000);
    expect(unpack(deflateRawSync(bytes(text)))).toBe(text);
    expect(unpack(deflateRawSync(bytes(text), { level: 0 }))).toBe(text);
  });
});

describe('a bomb', () => {
  const zeros = deflateRawSync(Buffer.alloc(5_000_000));

  test('of five million noughts is refused', () => {
    expect(zeros.length).toBeLessThan(10_000);
    expect(unpack(zeros)).toBeUndefined();
  });

  test('is stopped while it unfolds: a hundred times the size takes no longer', () => {
    const bomb = Buffer.concat([deflateRawSync(Buffer.alloc(5_000_000), { finishFlush: 2 }), zeros]);
    expect(unpack(bomb)).toBeUndefined();
    const garbageAfter = Buffer.concat([zeros.subarray(0, 4_000), Buffer.alloc(3_000_000, 0xaa)]);
    expect(unpack(garbageAfter)).toBeUndefined();
  });

  test('the limit is exact', () => {
    expect(unpack(deflateRawSync(Buffer.alloc(UNPACKED_MOST, 0x20)))).toHaveLength(UNPACKED_MOST);
    expect(unpack(deflateRawSync(Buffer.alloc(UNPACKED_MOST + 1, 0x20)))).toBeUndefined();
    expect(unpack(pack('abcdef'), 5)).toBeUndefined();
    expect(unpack(pack('abcdef'), 6)).toBe('abcdef');
  });
});

describe('damage', () => {
  const zlibReads = (own: Uint8Array): string | undefined => {
    try {
      return new TextDecoder('utf-8', { fatal: true }).decode(inflateRawSync(own));
    } catch {
      return undefined;
    }
  };

  test('no bytes at all are damaged', () => {
    expect(unpack(new Uint8Array())).toBeUndefined();
  });

  test('a packed text cut off anywhere is refused, never read in part', () => {
    const stored = deflateRawSync(bytes('stored in two blocks'.repeat(5_000)), { level: 0 });
    for (const whole of [pack('{"tendbook":"plan"}'.repeat(40)), deflateRawSync(bytes('abc')), stored.subarray(0, 1_000)]) {
      for (let end = 0; end < whole.length; end++) expect(unpack(whole.subarray(0, end))).toBeUndefined();
    }
    // The end of the first stored block is a clean cut.
    for (let end = 65_500; end < 65_560; end++) expect(unpack(stored.subarray(0, end))).toBeUndefined();
  });

  test('a cut at a clean end between two blocks is refused', () => {
    const open = deflateRawSync(bytes('first block'), { finishFlush: 2 });
    expect(zlibReads(open)).toBeUndefined();
    expect(unpack(open)).toBeUndefined();
  });

  test('a flipped bit never throws, and what zlib still reads is read alike', () => {
    fc.assert(
      fc.property(texts, fc.nat(), fc.integer({ min: 0, max: 7 }), (text, where, bit) => {
        const own = Uint8Array.from(pack(text));
        const at = where % own.length;
        own[at] = (own[at] as number) ^ (1 << bit);
        const [read, reference] = [unpack(own), zlibReads(own)];
        if (reference !== undefined) expect(read).toBe(reference);
        expect(['string', 'undefined']).toContain(typeof read);
      }),
      { numRuns: 500 },
    );
  });

  test('any bytes never throw, and what zlib reads is read alike', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (own) => {
        const [read, reference] = [unpack(own), zlibReads(own)];
        if (reference !== undefined) expect(read).toBe(reference);
        expect(['string', 'undefined']).toContain(typeof read);
      }),
      { numRuns: 2_000 },
    );
  });

  test('bytes that are no UTF-8 are damaged, not shown as question marks', () => {
    expect(unpack(deflateRawSync(Buffer.from([0xc3, 0x28])))).toBeUndefined();
  });
});

describe('the check number behind a sealed text', () => {
  test('is the CRC-32 that gzip writes (RFC 1952, against Node’s zlib)', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (own) => {
        const gzip = gzipSync(own);
        expect(crc32(own)).toBe(gzip.readUInt32LE(gzip.length - 8));
      }),
    );
  });

  test('of "123456789" is CBF43926, the usual check value of CRC-32', () => {
    expect(crc32(bytes('123456789')).toString(16)).toBe('cbf43926');
  });

  test('a sealed text comes back, also from the middle of a larger buffer', () => {
    fc.assert(
      fc.property(texts, fc.nat(9), (text, before) => {
        const sealed = seal(text);
        const larger = new Uint8Array(sealed.length + 20);
        larger.set(sealed, before);
        expect(unseal(larger.subarray(before, before + sealed.length))).toBe(text);
      }),
    );
  });

  test('one flipped bit, wherever it is, is noticed', () => {
    const sealed = seal('{"clinic":{"phone":"+1 312 555 0142"}}');
    for (let bit = 0; bit < sealed.length * 8; bit++) {
      const own = Uint8Array.from(sealed);
      own[bit >> 3] = (own[bit >> 3] as number) ^ (1 << (bit & 7));
      const read = unseal(own);
      // A bit that pads the last byte of deflate carries nothing.
      expect(read === undefined || read === '{"clinic":{"phone":"+1 312 555 0142"}}').toBe(true);
    }
  });

  test('a check number alone, or less, is damaged', () => {
    for (const length of [0, 1, 3, 4]) expect(unseal(new Uint8Array(length))).toBeUndefined();
    expect(unseal(pack('no check number'))).toBeUndefined();
  });
});

import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { nameUuid, sha1 } from '../../app/exchange/uuid.ts';

const hex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex');

test('SHA-1 agrees with the examples of its standard', () => {
  // RFC 3174, section 7.3, and FIPS 180: "abc" and the text of two blocks.
  const of = (text: string) => hex(sha1(new TextEncoder().encode(text)));
  expect(of('abc')).toBe('a9993e364706816aba3e25717850c26c9cd0d89d');
  expect(of('abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq')).toBe('84983e441c3bd26ebaae4aa1f95129e5e54670f1');
});

test('SHA-1 agrees with another implementation for any bytes', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
      expect(hex(sha1(bytes))).toBe(createHash('sha1').update(bytes).digest('hex'));
    }),
  );
});

test('a name gives the UUID that others give it', () => {
  // The space of domain names (RFC 9562, section 6.6); the first is the example in the documentation of Python's uuid module, the second that of RFC 9562, appendix A.4.
  const DNS = '6ba7b810-9dad-11d1-80b4-00c04fd430c8';
  expect(nameUuid(DNS, 'python.org')).toBe('886313e1-3b8a-5372-9b90-0c9aee199e5d');
  expect(nameUuid(DNS, 'www.example.com')).toBe('2ed6657d-e927-568b-95e1-2665a8aea6a2');
});

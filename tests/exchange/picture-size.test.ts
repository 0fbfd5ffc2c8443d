import { PNG } from 'pngjs';
import { describe, expect, test } from 'vitest';
import { claimedPixels } from '../../app/exchange/picture-size.ts';

/** A part of a JPEG: marker, length, content. */
const part = (marker: number, ...content: number[]): number[] => [
  0xff,
  marker,
  (content.length + 2) >> 8,
  (content.length + 2) & 255,
  ...content,
];
const frame = (marker: number, width: number, height: number): number[] =>
  part(marker, 8, height >> 8, height & 255, width >> 8, width & 255, 1, 1, 0x11, 0);
const bytes = (...values: (number | number[])[]): Uint8Array => new Uint8Array(values.flat());
const SOI = [0xff, 0xd8];

describe('how many pixels a file claims is read without unpacking it', () => {
  test('of a PNG, as another writer makes it (pngjs)', () => {
    expect(claimedPixels(PNG.sync.write(new PNG({ width: 31, height: 17 })))).toBe(31 * 17);
  });

  test('of a JPEG, behind its metadata, tables and fill bytes, plain or progressive', () => {
    const exif = part(0xe1, ...new Array(3000).fill(7));
    expect(claimedPixels(bytes(SOI, exif, part(0xdb, 1, 2, 3), frame(0xc0, 4032, 3024)))).toBe(4032 * 3024);
    expect(claimedPixels(bytes(SOI, part(0xe0, 1), [0xff], frame(0xc2, 65_000, 65_000)))).toBe(65_000 * 65_000);
    // C4 is a table of codes, not a frame.
    expect(claimedPixels(bytes(SOI, part(0xc4, 0, 0, 0, 0, 0, 0, 0, 0), frame(0xc1, 10, 20)))).toBe(200);
  });

  test('of a preview inside the metadata it takes no notice', () => {
    const preview = bytes(SOI, frame(0xc0, 160, 120));
    expect(claimedPixels(bytes(SOI, part(0xe1, ...preview), frame(0xc0, 4000, 3000)))).toBe(12e6);
  });

  test.each<[string, Uint8Array]>([
    ['nothing', bytes()],
    ['text', new TextEncoder().encode('not a picture at all')],
    ['a PNG that breaks off', PNG.sync.write(new PNG({ width: 9, height: 9 })).subarray(0, 20)],
    ['a JPEG that breaks off', bytes(SOI, part(0xe1, 1, 2, 3), [0xff, 0xc0, 0, 11, 8])],
    ['a JPEG whose parts do not follow on each other', bytes(SOI, part(0xe1, 1, 2, 3), [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12])],
    ['a JPEG with a part of no length', bytes(SOI, [0xff, 0xe1, 0, 0], new Array(40).fill(0))],
  ])('of %s nothing is said', (_name, head) => {
    expect(claimedPixels(head)).toBeUndefined();
  });
});

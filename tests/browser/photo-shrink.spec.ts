import { expect, test } from './app.ts';
import { openTestPage } from './bundle.ts';

test.use({ serviceWorkers: 'block' });

/** Exif with a direction of the camera and a place, as phones write it (JEITA CP-3451: TIFF, little-endian; tags from memory): turned by 90°, 41° 54′ N. */
function exif(): number[] {
  const u16 = (v: number): number[] => [v & 255, v >> 8];
  const u32 = (v: number): number[] => [...u16(v & 65_535), ...u16(v >>> 16)];
  const entry = (tag: number, type: number, count: number, value: number[]): number[] => [
    ...u16(tag),
    ...u16(type),
    ...u32(count),
    ...value,
  ];
  const gpsAt = 8 + 2 + 2 * 12 + 4;
  const degreesAt = gpsAt + 2 + 2 * 12 + 4;
  const tiff = [
    ...[0x49, 0x49, 0x2a, 0, ...u32(8)],
    ...[...u16(2), ...entry(0x0112, 3, 1, [...u16(6), 0, 0]), ...entry(0x8825, 4, 1, u32(gpsAt)), ...u32(0)],
    ...[...u16(2), ...entry(0x0001, 2, 2, [0x4e, 0, 0, 0]), ...entry(0x0002, 5, 3, u32(degreesAt)), ...u32(0)],
    ...[41, 1, 54, 1, 0, 1].flatMap(u32),
  ];
  const content = [0x45, 0x78, 0x69, 0x66, 0, 0, ...tiff];
  return [0xff, 0xe1, (content.length + 2) >> 8, (content.length + 2) & 255, ...content];
}

/** The parts of a JPEG up to its picture that hold more than is needed to draw it, each by its own name. */
function extras(jpeg: readonly number[]): string[] {
  const found: string[] = [];
  for (let at = 2; at < jpeg.length && jpeg[at + 1] !== 0xda; at += 2 + (jpeg[at + 2] as number) * 256 + (jpeg[at + 3] as number)) {
    const marker = jpeg[at + 1] as number;
    if ((marker >= 0xe0 && marker <= 0xef) || marker === 0xfe)
      found.push(String.fromCharCode(...jpeg.slice(at + 4, at + 16)).split('\0')[0] ?? '');
  }
  return found;
}

test('a photo is turned upright, made smaller, and loses place and all other metadata', async ({ page }) => {
  await openTestPage(page, './scale-page.ts');
  const { before, after, kept, seen, corners } = await page.evaluate(async (metadata) => {
    const canvas = new OffscreenCanvas(4032, 3024);
    const context = canvas.getContext('2d') as OffscreenCanvasRenderingContext2D;
    context.fillStyle = '#2a2';
    context.fillRect(0, 0, 4032, 3024);
    // The upper left of what the sensor saw; upright it is the upper right.
    context.fillStyle = '#c22';
    context.fillRect(0, 0, 1000, 1000);
    const plain = new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer());
    const withPlace = new Blob([plain.slice(0, 2), new Uint8Array(metadata), plain.slice(2)], { type: 'image/jpeg' });
    const shrunk = await globalThis.scaleTest.shrinkPhoto(withPlace);
    if (!shrunk.ok) throw new Error(shrunk.why);
    const { blob, widthPx, heightPx, pixels } = shrunk.photo;
    const at = (x: number, y: number) => [...pixels.data.slice((y * pixels.width + x) * 4, (y * pixels.width + x) * 4 + 3)];
    return {
      before: [...new Uint8Array(await withPlace.arrayBuffer())],
      after: [...new Uint8Array(await blob.arrayBuffer())],
      kept: [widthPx, heightPx, blob.type],
      seen: [pixels.width, pixels.height],
      corners: [at(100, 100), at(pixels.width - 100, 100)],
    };
  }, exif());
  expect(extras(before)).toContain('Exif');
  // The file's own head and the meaning of its colours (sRGB), and nothing else.
  expect(extras(after).filter((name) => !['JFIF', 'ICC_PROFILE'].includes(name))).toEqual([]);
  expect(Buffer.from(after).includes('Exif')).toBe(false);
  expect(kept).toEqual([1536, 2048, 'image/jpeg']);
  expect(seen).toEqual([2250, 3000]);
  const [left, right] = corners as [number[], number[]];
  expect(left[1]).toBeGreaterThan(left[0] as number);
  expect(right[0]).toBeGreaterThan(right[1] as number);
});

test('a small photo stays as large as it is, and what can be seen through becomes white', async ({ page }) => {
  await openTestPage(page, './scale-page.ts');
  const result = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(300, 200);
    canvas.getContext('2d');
    const shrunk = await globalThis.scaleTest.shrinkPhoto(await canvas.convertToBlob({ type: 'image/png' }));
    if (!shrunk.ok) throw new Error(shrunk.why);
    const { widthPx, heightPx, pixels } = shrunk.photo;
    return [widthPx, heightPx, pixels.width, ...pixels.data.slice(0, 4)];
  });
  expect(result).toEqual([300, 200, 300, 255, 255, 255, 255]);
});

test('what is no picture, or too large for a phone, is refused with its reason', async ({ page }) => {
  await openTestPage(page, './scale-page.ts');
  const why = await page.evaluate(async () => {
    const of = async (file: Blob) => {
      const shrunk = await globalThis.scaleTest.shrinkPhoto(file);
      return shrunk.ok ? 'ok' : shrunk.why;
    };
    const head = (width: number, height: number) => {
      const bytes = new Uint8Array([
        0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13, 73, 72, 68, 82, 0, 0, 0, 0, 0, 0, 0, 0, 8, 2, 0, 0, 0,
      ]);
      new DataView(bytes.buffer).setUint32(16, width);
      new DataView(bytes.buffer).setUint32(20, height);
      return new Blob([bytes], { type: 'image/png' });
    };
    return [
      await of(new Blob(['not a picture'], { type: 'image/jpeg' })),
      await of(new Blob([])),
      await of(head(10, 10)),
      await of(head(30_000, 30_000)),
      await of(new Blob([new Uint8Array(41 * 2 ** 20)], { type: 'image/jpeg' })),
    ];
  });
  expect(why).toEqual(['notAPicture', 'notAPicture', 'notAPicture', 'tooLarge', 'tooLarge']);
});

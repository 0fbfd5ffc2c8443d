/**
 * Reading QR codes from a camera picture or a photo: with the browser's own
 * detector where there is one, else with a decoder in WebAssembly that is
 * loaded only then, from this site and no other.
 */

import type { ReaderOptions } from 'zxing-wasm/reader';

/** A picture of pixels, four bytes each: what a canvas gives (`ImageData`). */
export type Picture = ImageData | Blob;

/** Finds the texts of all QR codes in a picture; none when there is none. */
export type Decoder = (picture: Picture) => Promise<string[]>;

interface NativeDetector {
  detect(picture: Picture): Promise<readonly { rawValue: string }[]>;
}
interface NativeDetectorClass {
  new (options: { formats: readonly string[] }): NativeDetector;
  getSupportedFormats(): Promise<readonly string[]>;
}

const FORMAT = 'qr_code';

/** The browser's own detector; undefined where it has none or it knows no QR codes. */
export async function nativeDecoder(from: unknown = globalThis): Promise<Decoder | undefined> {
  const Detector = (from as { BarcodeDetector?: NativeDetectorClass }).BarcodeDetector;
  if (!Detector) return undefined;
  try {
    if (!(await Detector.getSupportedFormats()).includes(FORMAT)) return undefined;
    const detector = new Detector({ formats: [FORMAT] });
    return async (picture) => textsOf((await detector.detect(picture)).map((code) => code.rawValue));
  } catch {
    return undefined;
  }
}

/** Each text once; a code without text is no code. */
const textsOf = (texts: readonly string[]): string[] => [...new Set(texts)].filter((text) => text !== '');

/** Where the decoder's WebAssembly comes from: an address, or for tests the bytes. */
export type DecoderSource = { url: string } | { bytes: ArrayBuffer };

type Reader = typeof import('zxing-wasm/reader');

async function load(source?: DecoderSource): Promise<Reader> {
  const library = await import('zxing-wasm/reader');
  const from = source ?? { url: (await import('zxing-wasm/reader/zxing_reader.wasm?url')).default };
  const overrides = 'url' in from ? { locateFile: () => from.url } : { wasmBinary: from.bytes };
  await library.prepareZXingModule({ overrides, fireImmediately: true });
  return library;
}

let loaded: Promise<Reader> | undefined;

/** The library with its WebAssembly ready, loaded once; a load that failed is tried again the next time. */
function reader(source?: DecoderSource): Promise<Reader> {
  if (source) return load(source);
  loaded ??= load().catch((error: unknown) => {
    loaded = undefined;
    throw error;
  });
  return loaded;
}

const OPTIONS = { formats: ['QRCode'], tryHarder: true, maxNumberOfSymbols: 8 } as const satisfies ReaderOptions;

/**
 * The decoder in WebAssembly. Needs `'wasm-unsafe-eval'` in the page's content
 * security policy.
 * @param source by default the file built beside the app; the library's own default would be another site.
 * @throws when it cannot be loaded, for instance offline before it was kept.
 */
export async function wasmDecoder(source?: DecoderSource): Promise<Decoder> {
  const { readBarcodes } = await reader(source);
  return async (picture) => textsOf((await readBarcodes(picture, OPTIONS)).filter((code) => code.isValid).map((code) => code.text));
}

type Corner = readonly [x: number, y: number];

/** A code with its place. */
export interface LocatedCode {
  text: string;
  /** Whole pixels: the code's top left, top right, bottom right, bottom left. */
  corners: readonly [Corner, Corner, Corner, Corner];
  /** Modules a side, and which are dark. */
  size: number;
  dark: (x: number, y: number) => boolean;
}

/** Finds all QR codes in a picture with their places. */
export type Locator = (picture: Picture) => Promise<LocatedCode[]>;

/** As `wasmDecoder`, for places too. The browser's own detector does not say which modules are dark. @throws as `wasmDecoder` does. */
export async function wasmLocator(source?: DecoderSource): Promise<Locator> {
  const { readBarcodes } = await reader(source);
  return async (picture) =>
    (await readBarcodes(picture, OPTIONS))
      .filter((code) => code.isValid)
      .map(({ text, position: { topLeft, topRight, bottomRight, bottomLeft }, symbol: { data, width } }) => ({
        text,
        corners: [
          [topLeft.x, topLeft.y],
          [topRight.x, topRight.y],
          [bottomRight.x, bottomRight.y],
          [bottomLeft.x, bottomLeft.y],
        ],
        size: width,
        dark: (x, y) => (data[y * width + x] ?? 255) < 128,
      }));
}

let native: Promise<Decoder | undefined> | undefined;

/**
 * The texts of all QR codes in a picture.
 * @param thorough for a single photo: where the browser's own detector finds nothing, the other one looks too.
 * @throws when the browser has no detector and ours cannot be loaded, or the picture cannot be read.
 */
export async function readCode(picture: Picture, { thorough = false }: { thorough?: boolean } = {}): Promise<string[]> {
  native ??= nativeDecoder();
  const own = await native;
  if (!own) return (await wasmDecoder())(picture);
  const found = await own(picture).catch(() => undefined);
  if (found && (found.length > 0 || !thorough)) return found;
  return (await wasmDecoder())(picture);
}

/**
 * Reading QR codes from a camera picture or a photo: with the browser's own
 * detector where there is one, else with a decoder in WebAssembly that is
 * loaded only then, from this site and no other.
 */

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

/**
 * The decoder in WebAssembly. Needs `'wasm-unsafe-eval'` in the page's content
 * security policy.
 * @param source by default the file built beside the app; the library's own default would be another site.
 * @throws when it cannot be loaded, for instance offline before it was kept.
 */
export async function wasmDecoder(source?: DecoderSource): Promise<Decoder> {
  const { prepareZXingModule, readBarcodes } = await import('zxing-wasm/reader');
  const from = source ?? { url: (await import('zxing-wasm/reader/zxing_reader.wasm?url')).default };
  const overrides = 'url' in from ? { locateFile: () => from.url } : { wasmBinary: from.bytes };
  await prepareZXingModule({ overrides, fireImmediately: true });
  return async (picture) => {
    const found = await readBarcodes(picture, { formats: ['QRCode'], tryHarder: true, maxNumberOfSymbols: 8 });
    return textsOf(found.filter((code) => code.isValid).map((code) => code.text));
  };
}

let native: Promise<Decoder | undefined> | undefined;
let wasm: Promise<Decoder> | undefined;

/** The decoder in WebAssembly, loaded once; a load that failed is tried again the next time. */
function loadedWasm(): Promise<Decoder> {
  wasm ??= wasmDecoder().catch((error: unknown) => {
    wasm = undefined;
    throw error;
  });
  return wasm;
}

/**
 * The texts of all QR codes in a picture.
 * @param thorough for a single photo: where the browser's own detector finds nothing, the other one looks too.
 * @throws when the browser has no detector and ours cannot be loaded, or the picture cannot be read.
 */
export async function readCode(picture: Picture, { thorough = false }: { thorough?: boolean } = {}): Promise<string[]> {
  native ??= nativeDecoder();
  const own = await native;
  if (!own) return (await loadedWasm())(picture);
  const found = await own(picture).catch(() => undefined);
  if (found && (found.length > 0 || !thorough)) return found;
  return (await loadedWasm())(picture);
}

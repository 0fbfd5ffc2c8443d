import type { Point, Quad } from '../../care/healing/homography.ts';
import type { PhotoSize, ScaleFit, ScaleMark } from '../../care/healing/image-scale.ts';
import { type Locator, wasmLocator } from '../qr.ts';
import { brightnessOf } from './brightness.ts';
import { fitModules } from './fit-modules.ts';
import { readScaleText } from './scale-text.ts';

/** Where the scale code is, in px of the photo, ready for `scaleFrom`. */
export interface FoundScale {
  corners: Quad;
  mark: ScaleMark;
  fit: ScaleFit;
}

/** Why no scale was found: `noCode`: none can be read; `otherCode`: only codes of another kind; `decoder`: it cannot be loaded. */
export type NotFound = 'noCode' | 'otherCode' | 'decoder';

/**
 * Looks for the printed scale code.
 * @param pixels of the photo, in as many pixels as there are.
 * @param photo the size in which places are wanted, that of the photo that is kept.
 * @param locate for tests; else the decoder is loaded from this site.
 */
export async function findScaleCode(
  pixels: ImageData,
  photo: PhotoSize,
  locate?: Locator,
): Promise<{ ok: true; found: FoundScale } | { ok: false; why: NotFound }> {
  const locator = locate ?? (await wasmLocator().catch(() => undefined));
  if (!locator) return { ok: false, why: 'decoder' };
  const codes = await locator(pixels);
  const code = codes.find(({ text }) => readScaleText(text) !== undefined);
  const sideMm = code && readScaleText(code.text);
  if (!code || sideMm === undefined) return { ok: false, why: codes.length > 0 ? 'otherCode' : 'noCode' };
  const start = code.corners as Quad;
  const fitted = fitModules(code, start, brightnessOf(pixels));
  if (!fitted) return { ok: false, why: 'noCode' };
  const [sx, sy] = [photo.widthPx / pixels.width, photo.heightPx / pixels.height];
  const moduleMm = sideMm / code.size;
  return {
    ok: true,
    found: {
      corners: fitted.corners.map(([x, y]): Point => [x * sx, y * sy]) as unknown as Quad,
      mark: { kind: 'code', sideMm },
      fit: {
        cornerErrorPx: Math.max(fitted.noise / 2, fitted.bend) * fitted.modulePx * Math.max(sx, sy),
        bendMm: fitted.bend * moduleMm,
        blurMm: fitted.blur * moduleMm,
      },
    },
  };
}

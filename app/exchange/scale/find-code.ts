import type { Point, Quad } from '../../care/healing/homography.ts';
import type { PhotoSize, ScaleFit, ScaleMark } from '../../care/healing/image-scale.ts';
import { polygonArea } from '../../care/healing/outline.ts';
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

/** A corner of some 1,600 borders is off by less than half as much as one border (rendered photos: 0.1 to 0.45). */
const CORNER_NOISE = 0.5;

/** Why no scale was found: `noCode`: none can be read; `otherCode`: only codes of another kind; `decoder`: it cannot be loaded. */
export type NotFound = 'noCode' | 'otherCode' | 'decoder';

/**
 * Looks for the printed scale code.
 * @param pixels of the photo, in as many pixels as there are.
 * @param photo the size in which places are wanted, that of the photo that is kept.
 * @param load gives the decoder; by default from this site.
 */
export async function findScaleCode(
  pixels: ImageData,
  photo: PhotoSize,
  load: () => Promise<Locator> = wasmLocator,
): Promise<{ ok: true; found: FoundScale } | { ok: false; why: NotFound }> {
  const locate = await load().catch(() => undefined);
  if (!locate) return { ok: false, why: 'decoder' };
  const codes = await locate(pixels);
  const code = codes
    .filter(({ text }) => readScaleText(text) !== undefined)
    .sort((a, b) => polygonArea(b.corners) - polygonArea(a.corners))[0];
  const sideMm = code && readScaleText(code.text);
  if (!code || sideMm === undefined) return { ok: false, why: codes.length > 0 ? 'otherCode' : 'noCode' };
  const fitted = fitModules(code, code.corners, brightnessOf(pixels));
  if (!fitted) return { ok: false, why: 'noCode' };
  const [sx, sy] = [photo.widthPx / pixels.width, photo.heightPx / pixels.height];
  const moduleMm = sideMm / code.size;
  return {
    ok: true,
    found: {
      corners: fitted.corners.map(([x, y]): Point => [x * sx, y * sy]) as unknown as Quad,
      mark: { kind: 'code', sideMm },
      fit: {
        cornerErrorPx: CORNER_NOISE * fitted.noise * fitted.modulePx * Math.max(sx, sy),
        bendMm: fitted.bend * moduleMm,
        blurMm: fitted.blur * moduleMm,
      },
    },
  };
}

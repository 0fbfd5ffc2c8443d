import { claimedPixels, HEAD_BYTES } from './picture-size.ts';

/** Longest side of a photo that is kept, px. */
export const KEPT_SIDE_MOST_PX = 2048;
/** Longest side in which the scale is looked for, px; a small code needs them. */
export const SEEN_SIDE_MOST_PX = 3000;
/** What a phone's memory bears; a larger file, or more pixels, is refused. */
export const FILE_MOST_BYTES = 40 * 2 ** 20;
export const PIXELS_MOST = 60e6;
const QUALITY = 0.88;

export interface ShrunkPhoto {
  /** JPEG, upright, without metadata. */
  blob: Blob;
  widthPx: number;
  heightPx: number;
  /** The same photo in more pixels, for finding the scale: up to 27 MB. Let go of it soon. */
  pixels: ImageData;
}

/** Why a file gives no photo: `notAPicture`: this browser cannot read it as one; `tooLarge`: more than the phone's memory bears. */
export type PhotoFault = 'notAPicture' | 'tooLarge';

/** Draws a picture into a canvas whose longer side is at most so many pixels; undefined when there is no memory for it. */
function drawn(photo: ImageBitmap | HTMLCanvasElement, most: number) {
  const scale = Math.min(1, most / Math.max(photo.width, photo.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(photo.width * scale));
  canvas.height = Math.max(1, Math.round(photo.height * scale));
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (!context) return undefined;
  context.imageSmoothingQuality = 'high';
  // What can be seen through becomes white, as paper is.
  context.fillStyle = '#fff';
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(photo, 0, 0, canvas.width, canvas.height);
  return { canvas, context };
}

/** Gives a canvas's memory back at once; some browsers wait long. */
function free(canvas: HTMLCanvasElement): void {
  canvas.width = 0;
  canvas.height = 0;
}

/** Decodes a picture, turned the way it was taken. Browsers that do not know the option turn it by themselves. */
const decoded = (file: Blob): Promise<ImageBitmap | undefined> =>
  createImageBitmap(file, { imageOrientation: 'from-image' })
    .catch(() => createImageBitmap(file))
    .catch(() => undefined);

/**
 * A photo from the camera or the gallery, upright, small enough to keep, and
 * without place, time or any other metadata: it is drawn and encoded anew.
 */
export async function shrinkPhoto(file: Blob): Promise<{ ok: true; photo: ShrunkPhoto } | { ok: false; why: PhotoFault }> {
  if (file.size > FILE_MOST_BYTES) return { ok: false, why: 'tooLarge' };
  const head = await file
    .slice(0, HEAD_BYTES)
    .arrayBuffer()
    .catch(() => undefined);
  if (!head) return { ok: false, why: 'notAPicture' };
  if ((claimedPixels(new Uint8Array(head)) ?? 0) > PIXELS_MOST) return { ok: false, why: 'tooLarge' };
  const bitmap = await decoded(file);
  if (!bitmap) return { ok: false, why: 'notAPicture' };
  const isTooLarge = bitmap.width * bitmap.height > PIXELS_MOST;
  const seen = isTooLarge ? undefined : drawn(bitmap, SEEN_SIDE_MOST_PX);
  bitmap.close();
  if (!seen) return { ok: false, why: 'tooLarge' };
  const kept = drawn(seen.canvas, KEPT_SIDE_MOST_PX);
  const pixels = seen.context.getImageData(0, 0, seen.canvas.width, seen.canvas.height);
  free(seen.canvas);
  if (!kept) return { ok: false, why: 'tooLarge' };
  const { width: widthPx, height: heightPx } = kept.canvas;
  const blob = await new Promise<Blob | null>((resolve) => kept.canvas.toBlob(resolve, 'image/jpeg', QUALITY));
  free(kept.canvas);
  return blob ? { ok: true, photo: { blob, widthPx, heightPx, pixels } } : { ok: false, why: 'tooLarge' };
}

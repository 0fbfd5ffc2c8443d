/** Longest side of a photo that is kept, px. */
export const KEPT_SIDE_MOST_PX = 2048;
/** Longest side in which the scale is looked for, px; a small code needs them. */
export const SEEN_SIDE_MOST_PX = 3000;
/** What a phone's memory bears: a file larger than this, or more pixels, is refused. */
export const FILE_MOST_BYTES = 40 * 2 ** 20;
export const PIXELS_MOST = 60e6;
const QUALITY = 0.88;

export interface ShrunkPhoto {
  /** JPEG without metadata. */
  blob: Blob;
  widthPx: number;
  heightPx: number;
  /** The same photo in more pixels, for finding the scale. Let go of it soon. */
  pixels: ImageData;
}

/** Draws a picture into a canvas whose longer side is at most so many pixels. */
function drawn(photo: ImageBitmap, most: number): HTMLCanvasElement {
  const scale = Math.min(1, most / Math.max(photo.width, photo.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(photo.width * scale));
  canvas.height = Math.max(1, Math.round(photo.height * scale));
  const context = canvas.getContext('2d');
  if (context) {
    context.imageSmoothingQuality = 'high';
    // What can be seen through becomes white, as paper is.
    context.fillStyle = '#fff';
    context.fillRect(0, 0, canvas.width, canvas.height);
    context.drawImage(photo, 0, 0, canvas.width, canvas.height);
  }
  return canvas;
}

/** Gives a canvas's memory back at once; some browsers wait long. */
function free(canvas: HTMLCanvasElement): void {
  canvas.width = 0;
  canvas.height = 0;
}

/**
 * A photo from the camera or the gallery, upright, small enough to keep, and
 * without place, time or any other metadata: it is drawn and encoded anew.
 */
export async function shrinkPhoto(file: Blob): Promise<{ ok: true; photo: ShrunkPhoto } | { ok: false; why: 'notAPicture' | 'tooLarge' }> {
  if (file.size > FILE_MOST_BYTES) return { ok: false, why: 'tooLarge' };
  const bitmap = await createImageBitmap(file, { imageOrientation: 'from-image' }).catch(() => undefined);
  if (!bitmap) return { ok: false, why: 'notAPicture' };
  try {
    if (bitmap.width * bitmap.height > PIXELS_MOST) return { ok: false, why: 'tooLarge' };
    const seen = drawn(bitmap, SEEN_SIDE_MOST_PX);
    const pixels = seen.getContext('2d')?.getImageData(0, 0, seen.width, seen.height);
    free(seen);
    const kept = drawn(bitmap, KEPT_SIDE_MOST_PX);
    const { width: widthPx, height: heightPx } = kept;
    const blob = await new Promise<Blob | null>((resolve) => kept.toBlob(resolve, 'image/jpeg', QUALITY));
    free(kept);
    return blob && pixels ? { ok: true, photo: { blob, widthPx, heightPx, pixels } } : { ok: false, why: 'tooLarge' };
  } finally {
    bitmap.close();
  }
}

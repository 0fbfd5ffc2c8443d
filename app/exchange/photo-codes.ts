import { readCode } from './qr.ts';

/** Sides to try, longest first: a large photo holds a small code, a small one blurs the grain of paper away. */
const SIDES = [2400, 1200, 700] as const;

/** A photo as pixels, its longer side at most `most`. */
function pixelsOf(photo: ImageBitmap, most: number): ImageData | undefined {
  const scale = Math.min(1, most / Math.max(photo.width, photo.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(photo.width * scale));
  canvas.height = Math.max(1, Math.round(photo.height * scale));
  const context = canvas.getContext('2d');
  context?.drawImage(photo, 0, 0, canvas.width, canvas.height);
  return context?.getImageData(0, 0, canvas.width, canvas.height);
}

export type PhotoReading = { ok: true; texts: string[] } | { ok: false; why: 'photo' | 'decoder' };

/** The texts of all codes in a photo; none when there is none. */
export async function codesInPhoto(file: Blob): Promise<PhotoReading> {
  const photo = await createImageBitmap(file).catch(() => undefined);
  if (!photo) return { ok: false, why: 'photo' };
  try {
    for (const side of SIDES) {
      const pixels = pixelsOf(photo, side);
      const texts = pixels ? await readCode(pixels, { thorough: true }) : [];
      if (texts.length > 0) return { ok: true, texts };
    }
    return { ok: true, texts: [] };
  } catch {
    return { ok: false, why: 'decoder' };
  } finally {
    photo.close();
  }
}

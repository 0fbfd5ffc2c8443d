/** The pixels of a kept photo; undefined when the browser cannot show it. */
export async function photoPixels(bytes: Blob): Promise<ImageData | undefined> {
  const bitmap = await createImageBitmap(bytes).catch(() => undefined);
  if (!bitmap) return undefined;
  const canvas = document.createElement('canvas');
  canvas.width = bitmap.width;
  canvas.height = bitmap.height;
  const context = canvas.getContext('2d');
  context?.drawImage(bitmap, 0, 0);
  const pixels = context?.getImageData(0, 0, canvas.width, canvas.height);
  bitmap.close();
  // Gives the memory back at once; some browsers wait long.
  canvas.width = 0;
  canvas.height = 0;
  return pixels;
}

/** How many bytes at the beginning of a file are looked at; a JPEG's size stands behind its metadata and a small preview. */
export const HEAD_BYTES = 2 ** 19;

const PNG_MARK = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
/** Frame headers of a JPEG: C0 to CF but for the tables C4, C8 and CC (ITU-T T.81, table B.1; from memory). */
const isFrame = (marker: number): boolean => marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);

/**
 * How many pixels a PNG or JPEG claims to have, read from its beginning without
 * decoding it, so that a picture too large for the phone is never unpacked.
 * @returns undefined for other kinds, and where it does not say.
 */
export function claimedPixels(head: Uint8Array): number | undefined {
  const view = new DataView(head.buffer, head.byteOffset, head.byteLength);
  if (PNG_MARK.every((byte, i) => head[i] === byte)) return head.length >= 24 ? view.getUint32(16) * view.getUint32(20) : undefined;
  if (head[0] !== 0xff || head[1] !== 0xd8) return undefined;
  for (let at = 2; at + 9 < head.length; ) {
    if (head[at] !== 0xff) return undefined;
    const marker = head[at + 1] as number;
    if (isFrame(marker)) return view.getUint16(at + 5) * view.getUint16(at + 7);
    // A fill byte stands alone; every other part says how long it is.
    at += marker === 0xff ? 1 : 2 + view.getUint16(at + 2);
  }
  return undefined;
}

const rotate = (word: number, bits: number): number => (word << bits) | (word >>> (32 - bits));

/** The function and the constant of one of the eighty rounds. */
function mixed(round: number, b: number, c: number, d: number): number {
  if (round < 20) return ((b & c) | (~b & d)) + 0x5a827999;
  if (round < 40) return (b ^ c ^ d) + 0x6ed9eba1;
  if (round < 60) return ((b & c) | (b & d) | (c & d)) + 0x8f1bbcdc;
  return (b ^ c ^ d) + 0xca62c1d6;
}

/**
 * SHA-1 of some bytes (RFC 3174). For names only: it is what a UUID of
 * version 5 is made of, and protects nothing. The platform's own digest would
 * make each of thousands of names wait.
 */
export function sha1(bytes: Uint8Array): Uint8Array {
  const padded = new Uint8Array(Math.ceil((bytes.length + 9) / 64) * 64);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(padded.length - 4, bytes.length << 3);
  let [h0, h1, h2, h3, h4] = [0x67452301, 0xefcdab89, 0x98badcfe, 0x10325476, 0xc3d2e1f0];
  const w = new Int32Array(80);
  for (let block = 0; block < padded.length; block += 64) {
    for (let i = 0; i < 16; i++) w[i] = view.getInt32(block + i * 4);
    for (let i = 16; i < 80; i++)
      w[i] = rotate((w[i - 3] as number) ^ (w[i - 8] as number) ^ (w[i - 14] as number) ^ (w[i - 16] as number), 1);
    let [a, b, c, d, e] = [h0, h1, h2, h3, h4];
    for (let i = 0; i < 80; i++) {
      const next = (rotate(a, 5) + mixed(i, b, c, d) + e + (w[i] as number)) | 0;
      e = d;
      d = c;
      c = rotate(b, 30);
      b = a;
      a = next;
    }
    [h0, h1, h2, h3, h4] = [(h0 + a) | 0, (h1 + b) | 0, (h2 + c) | 0, (h3 + d) | 0, (h4 + e) | 0];
  }
  const hash = new Uint8Array(20);
  const out = new DataView(hash.buffer);
  for (const [i, word] of [h0, h1, h2, h3, h4].entries()) out.setInt32(i * 4, word);
  return hash;
}

/**
 * The UUID of a name within a space of names (RFC 9562, version 5): the same
 * name always gives the same one.
 * @param space the UUID of the space, in its usual spelling.
 */
export function nameUuid(space: string, name: string): string {
  const text = new TextEncoder().encode(name);
  const bytes = new Uint8Array(16 + text.length);
  const hex = space.replaceAll('-', '');
  for (let i = 0; i < 16; i++) bytes[i] = Number.parseInt(hex.slice(i * 2, i * 2 + 2), 16);
  bytes.set(text, 16);
  const uuid = sha1(bytes).slice(0, 16);
  uuid[6] = ((uuid[6] as number) & 0x0f) | 0x50;
  uuid[8] = ((uuid[8] as number) & 0x3f) | 0x80;
  const digits = Array.from(uuid, (byte) => byte.toString(16).padStart(2, '0')).join('');
  return [digits.slice(0, 8), digits.slice(8, 12), digits.slice(12, 16), digits.slice(16, 20), digits.slice(20)].join('-');
}

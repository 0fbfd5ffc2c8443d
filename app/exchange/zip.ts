import { zipSync } from 'fflate';

/** ZIP keeps wall-clock times without a zone; a fixed one says nothing about the person and makes equal files equal. */
const ANY_TIME = '2000-01-01T12:00:00';

/** Text files packed into one ZIP archive, in UTF-8. */
export function zipTexts(files: readonly { name: string; text: string }[]): Uint8Array<ArrayBuffer> {
  const encoder = new TextEncoder();
  const archive = zipSync(Object.fromEntries(files.map((f) => [f.name, encoder.encode(f.text)])), { mtime: ANY_TIME });
  return new Uint8Array(archive);
}

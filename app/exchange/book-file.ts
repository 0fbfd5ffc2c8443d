import {
  type BookArrival,
  type BookRefusal,
  type BookToSend,
  bookFrom,
  boundsFor,
  contentOf,
  photoOf,
  refuse,
  type SentPhoto,
  wrappingFault,
} from './book-content.ts';
import { crc32, fromBase64, toBase64 } from './bytes.ts';
import { foreignJson } from './foreign-json.ts';
import { field, fieldsOf } from './plan-json.ts';

/**
 * One person's book as a file: readable JSON in one line,
 * `{ "tendbook": "book", "version": 1, "made", "device", "from"?, "acceptedAt",
 * "plan", "earlierPlans", "records", "photos"?, "sum" }`.
 *
 * `photos` are `{ "id", "type", "data" }` with the JPEG in base64. `sum` comes
 * last: the CRC-32, as eight hexadecimal digits, of all bytes before the comma
 * in front of it. It tells damage on the way, not forgery: whoever can write
 * the file can write the sum. So a person is always asked before it is used.
 */

/** Photos in one file, in bytes; more belong into a locked copy, which is read piece by piece. */
export const FILE_PHOTOS_MOST = 24_000_000;
/** A file is read whole, so it must fit into a phone's memory with ease. */
export const BOOK_FILE_MOST = 48_000_000;
const PHOTOS_MOST = 500;

const BEGINS_LIKE_OURS = /^\s*\{\s*"tendbook"\s*:\s*"book"/;
const SUM = /,"sum":"([0-9a-f]{8})"\}\s*$/;
/** Letters in which the sum must stand, the last of the file. */
const SUM_WITHIN = 64;

const utf8 = new TextEncoder();

/**
 * Writes a book with the photos that were chosen.
 * @param photos bytes by id.
 * @throws RangeError when the photos are more than `FILE_PHOTOS_MOST` bytes.
 */
export async function writeBookFile(book: BookToSend, photos: ReadonlyMap<string, Blob> = new Map()): Promise<Blob> {
  const size = [...photos.values()].reduce((sum, p) => sum + p.size, 0);
  if (size > FILE_PHOTOS_MOST || photos.size > PHOTOS_MOST) throw new RangeError('too many photos for one file');
  const parts: Uint8Array<ArrayBuffer>[] = [];
  let sum = 0;
  const add = (text: string): void => {
    const bytes = utf8.encode(text);
    parts.push(bytes);
    sum = crc32(bytes, sum);
  };
  add(JSON.stringify(contentOf(book)).slice(0, -1));
  let comma = ',"photos":[';
  for (const [id, blob] of photos) {
    const data = toBase64(new Uint8Array(await blob.arrayBuffer()));
    add(comma + JSON.stringify({ id, type: 'image/jpeg', data }));
    comma = ',';
  }
  if (photos.size > 0) add(']');
  parts.push(utf8.encode(`,"sum":"${hex(sum)}"}\n`));
  return new Blob(parts, { type: 'text/plain' });
}

/**
 * A file with content that came in another way, letter for letter.
 * @param json the content of a book, as one JSON object.
 */
export function fileOfContent(json: string): Blob {
  const body = utf8.encode(json.trimEnd().slice(0, -1));
  return new Blob([body, utf8.encode(`,"sum":"${hex(crc32(body))}"}\n`)], { type: 'text/plain' });
}

const hex = (sum: number): string => sum.toString(16).padStart(8, '0');

/** Whether a file begins as a book does; tells nothing about the rest. */
export const looksLikeBook = async (file: Blob): Promise<boolean> => BEGINS_LIKE_OURS.test(await file.slice(0, 200).text());

/** Reads a book from a file. Never throws for what is in it. Only `TypeError` and the like of the platform, when the file cannot be read at all. */
export async function readBookFile(file: Blob): Promise<BookArrival> {
  if (file.size === 0) return refuse('nothing');
  if (file.size > BOOK_FILE_MOST) return refuse('tooLarge');
  return readBookBytes(new Uint8Array(await file.arrayBuffer()));
}

/** Reads a book from the bytes of a file. Never throws. */
export function readBookBytes(file: Uint8Array): BookArrival {
  const hasMark = file[0] === 0xef && file[1] === 0xbb && file[2] === 0xbf;
  const bytes = hasMark ? file.subarray(3) : file;
  const text = textOf(bytes);
  if (text === undefined) return refuse(brokenKind(bytes));
  if (text.trim() === '') return refuse('nothing');
  const parsed = foreignJson(text, boundsFor(BOOK_FILE_MOST));
  if (!parsed.ok) return refuse(parsed.why === 'notJson' ? brokenKind(bytes) : parsed.why);
  const fault = wrappingFault(parsed.content);
  if (fault) return refuse(fault);
  const [end, sum] = SUM.exec(text.slice(-SUM_WITHIN)) ?? [];
  // What stands behind the comma is ASCII, so its letters are its bytes.
  if (end === undefined || hex(crc32(bytes.subarray(0, bytes.length - end.length))) !== sum) return refuse('damaged');
  const { photos, odd } = photosOf(field(fieldsOf(parsed.content), 'photos'));
  return bookFrom(parsed.content, photos, odd);
}

function textOf(bytes: Uint8Array): string | undefined {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

/** What a file that is no JSON was meant to be. The end of a book is its sum; a locked copy is lines of text, the first of which is JSON. */
function brokenKind(bytes: Uint8Array): BookRefusal {
  const [start, end] = [bytes.subarray(0, SUM_WITHIN), bytes.subarray(-SUM_WITHIN)].map((part) => new TextDecoder().decode(part)) as [
    string,
    string,
  ];
  if (BEGINS_LIKE_OURS.test(start)) return SUM.test(end) ? 'damaged' : 'cutOff';
  return /^\s*\{\s*"tendbook"\s*:\s*"backup"/.test(start) ? 'backup' : 'notABook';
}

function photosOf(content: unknown): { photos: SentPhoto[]; odd: unknown[] } {
  if (content === undefined) return { photos: [], odd: [] };
  if (!Array.isArray(content) || content.length > PHOTOS_MOST) return { photos: [], odd: [content] };
  const photos = new Map<string, SentPhoto>();
  const odd: unknown[] = [];
  for (const value of content) {
    const fields = fieldsOf(value);
    const data = field(fields, 'data');
    const photo = photoOf(field(fields, 'id'), typeof data === 'string' ? fromBase64(data) : undefined);
    if (photo && !photos.has(photo.id)) photos.set(photo.id, photo);
    else odd.push(value);
  }
  return { photos: [...photos.values()], odd };
}

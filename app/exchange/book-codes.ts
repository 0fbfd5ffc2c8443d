import { type BookArrival, type BookToSend, bookFrom, boundsFor, contentOf, refuse, wrappingFault } from './book-content.ts';
import { fileOfContent } from './book-file.ts';
import { joinBytes, pack, unpack } from './bytes.ts';
import { type Collected, type CollectingBytes, collectBytes, LOG, readPart } from './code-sequence.ts';
import { foreignJson } from './foreign-json.ts';
import { LOG_DICTIONARY_NOW, logDictionaryOf } from './log-dictionary.ts';
import { type Code, setOfCodes } from './qr-write.ts';

/**
 * One person's book as a numbered set of QR codes, without photos. Earlier plans
 * go along, for old entries are held against them; they differ little from the
 * one in force, so they pack small. The bytes are the version of this shape, the
 * number of the preset dictionary, and the raw-deflated JSON of the book. Each
 * code is a link, so that a phone's own camera opens the app and no search
 * engine; what follows `#` is never sent anywhere.
 */
const SHAPE = 1;
const HEAD = 2;
/** Twenty-four codes hold some 21 kB; real logs unfold to ten to twenty times that. */
const UNPACKED_MOST = 2_000_000;

/** The link of one code. */
const logLink = (part: string, address: string): string => `${address.replace(/#.*$/, '')}#log=${part}`;

/** The part within whatever was scanned or pasted; undefined when there is none of a log. */
export function logPartIn(text: string): string | undefined {
  const part = /#log=([^#\s]+)/.exec(text)?.[1] ?? text.trim();
  return readPart(part, LOG) ? part : undefined;
}

/** Whether a text means to be a code of a log, whole or not. */
export const looksLikeLogCode = (text: string): boolean => /#log=/.test(text) || logPartIn(text) !== undefined;

/**
 * The codes of a book, each at most version 24 at level M.
 * @param address of the app that the links open.
 * @returns undefined when it would be too many; hand over the file, or choose fewer days.
 */
export const bookCodes = (book: BookToSend, address: string): Code[] | undefined =>
  setOfCodes(foldBook(book), (part) => logLink(part, address), LOG);

/** Takes in one more code, in any order; see `collectBytes`. Its bytes, once complete, are read by `readBookCodes`. */
export const collectLog = (state: Collected | undefined, text: string): CollectingBytes => collectBytes(state, logPartIn(text) ?? '', LOG);

/** A book as the bytes of a set of codes. */
export function foldBook(book: BookToSend): Uint8Array {
  const json = JSON.stringify(contentOf(book));
  return joinBytes([Uint8Array.of(SHAPE, LOG_DICTIONARY_NOW), pack(json, logDictionaryOf(LOG_DICTIONARY_NOW))]);
}

/** Reads a book from the bytes of a complete set of codes. Never throws. */
export function readBookCodes(bytes: Uint8Array): BookArrival {
  const [shape, number] = bytes;
  if (shape === undefined || number === undefined) return refuse('nothing');
  if (shape > SHAPE || (shape === SHAPE && number > LOG_DICTIONARY_NOW)) return refuse('newerVersion');
  const text = contentOfCodes(bytes);
  if (text === undefined) return refuse('damaged');
  const parsed = foreignJson(text, boundsFor(UNPACKED_MOST));
  if (!parsed.ok) return refuse(parsed.why === 'unsafe' ? 'unsafe' : 'damaged');
  const fault = wrappingFault(parsed.content);
  return fault ? refuse(fault) : bookFrom(parsed.content, [], []);
}

/** The JSON in the bytes of a complete set of codes; undefined when they cannot be unfolded. */
function contentOfCodes(bytes: Uint8Array): string | undefined {
  const [shape, number] = bytes;
  const dictionary = logDictionaryOf(number ?? 0);
  return shape === SHAPE && dictionary ? unpack(bytes.subarray(HEAD), UNPACKED_MOST, dictionary) : undefined;
}

/** A log that came as codes as a file with the same content; undefined for bytes that `readBookCodes` refuses as damaged. */
export function fileOfCodes(bytes: Uint8Array): Blob | undefined {
  const content = contentOfCodes(bytes);
  return content === undefined ? undefined : fileOfContent(content);
}

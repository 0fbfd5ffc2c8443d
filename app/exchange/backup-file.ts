import * as z from 'zod/mini';
import { type BackupContents, type BackupPart, PartsReader, partToBytes } from './backup-parts.ts';
import { type Line, linesOf } from './blob-lines.ts';
import { crc32, fromBase64, joinBytes, toBase64 } from './bytes.ts';
import { areRounds, isLongEnough, PASSPHRASE_ROUNDS, passphraseKey, SALT_BYTES } from './passphrase.ts';
import { fieldsOf, parseJson } from './plan-json.ts';
import { own, utf8 } from './signature.ts';

/**
 * A locked copy of all that a phone keeps, in one file of plain ASCII, because
 * mail and share sheets carry text unharmed and may harm what only looks like it.
 *
 * Line 1 is readable JSON: `tendbook`, `version`, when it was made, how the key
 * comes from the passphrase, the cipher and the size of a chunk. Line 2 is the
 * CRC-32 of line 1 in eight hexadecimal digits, a blank, and the AES-GCM tag of
 * an empty text under chunk number 0: it tells a wrong passphrase from damage.
 * Each further line is one chunk of the parts (backup-parts.ts), locked with
 * AES-GCM and in base64.
 *
 * Chunks are chained as in the STREAM construction (Hoang, Reyhanitabar,
 * Rogaway, Vizár 2015): the nonce is seven bytes of chance, the chunk's number
 * and whether it is the last; so no chunk can be changed, moved, doubled or
 * left out, nor the end cut off, without being noticed. Line 1, the number and
 * the mark of the last are authenticated with each chunk as well.
 */
const KIND = 'backup';
const VERSION = 1;
const CHUNK = 1 << 20;
const CHUNK_MOST = 1 << 22;
const NONCE_BYTES = 7;
const TAG_BYTES = 16;
const HEADER_MOST = 2_000;
/** Letters of a line with the largest chunk. */
const LINE_MOST = 4 * Math.ceil((CHUNK_MOST + TAG_BYTES) / 3) + 2;

const base64 = (bytes: number) => z.string().check(z.refine((text) => text.length <= 64 && fromBase64(text)?.length === bytes));
const headerSchema = z.object({
  tendbook: z.literal(KIND),
  version: z.literal(VERSION),
  made: z.string().check(z.refine((text) => /^\d{4}-\d\d-\d\dT[\d:.]+Z$/.test(text) && !Number.isNaN(Date.parse(text)))),
  lock: z.object({
    name: z.literal('PBKDF2'),
    hash: z.literal('SHA-256'),
    iterations: z.number().check(z.refine(areRounds)),
    salt: base64(SALT_BYTES),
  }),
  cipher: z.object({ name: z.literal('AES-GCM'), nonce: base64(NONCE_BYTES), chunk: z.int().check(z.minimum(1), z.maximum(CHUNK_MOST)) }),
});
type Header = z.infer<typeof headerSchema>;

/** A key with what every chunk is locked with besides. */
interface Lock {
  key: CryptoKey;
  /** Line 1. */
  line: string;
  nonce: Uint8Array;
}

function rule({ line, nonce }: Lock, number: number, isLast: boolean): AesGcmParams {
  const iv = new Uint8Array(NONCE_BYTES + 5);
  iv.set(nonce);
  new DataView(iv.buffer).setUint32(NONCE_BYTES, number);
  iv[NONCE_BYTES + 4] = isLast ? 1 : 0;
  return { name: 'AES-GCM', iv, additionalData: utf8(`${line}\n${number} ${isLast ? 'last' : 'more'}`) };
}

const locked = async (lock: Lock, number: number, isLast: boolean, bytes: Uint8Array): Promise<Uint8Array> =>
  new Uint8Array(await crypto.subtle.encrypt(rule(lock, number, isLast), lock.key, own(bytes)));

/** A chunk's bytes; undefined when anything about it was changed. */
async function unlocked(lock: Lock, number: number, isLast: boolean, bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array | undefined> {
  try {
    return new Uint8Array(await crypto.subtle.decrypt(rule(lock, number, isLast), lock.key, bytes));
  } catch {
    return undefined;
  }
}

/** How work on a copy is followed and stopped. */
export interface Following {
  /** Told how much is done, 0 to 1. */
  onProgress?: (share: number) => void;
  /** Stops the work; what is awaited then throws the signal's reason. */
  signal?: AbortSignal;
}

interface Writing extends Following {
  /** When it is made, UTC. */
  made: string;
  /** How many parts there will be, for the progress. */
  count: number;
}

/**
 * Writes a locked copy.
 * @param parts `contents` first; asked for one by one, so that no more than one is in memory.
 * @throws RangeError for a passphrase shorter than `PASSPHRASE_LEAST`.
 */
export async function writeBackup(
  parts: AsyncIterable<BackupPart>,
  passphrase: string,
  { made, count, onProgress, signal }: Writing,
): Promise<Blob> {
  if (!isLongEnough(passphrase)) throw new RangeError('the passphrase is too short');
  const salt = crypto.getRandomValues(new Uint8Array(SALT_BYTES));
  const nonce = crypto.getRandomValues(new Uint8Array(NONCE_BYTES));
  const header: Header = {
    tendbook: KIND,
    version: VERSION,
    made,
    lock: { name: 'PBKDF2', hash: 'SHA-256', iterations: PASSPHRASE_ROUNDS, salt: toBase64(salt) },
    cipher: { name: 'AES-GCM', nonce: toBase64(nonce), chunk: CHUNK },
  };
  const line = JSON.stringify(header);
  const lock: Lock = { key: await passphraseKey(passphrase, salt, PASSPHRASE_ROUNDS), line, nonce };
  const lines: Blob[] = [];
  const add = (text: string): void => void lines.push(new Blob([text, '\n']));
  add(line);
  add(`${hex(crc32(utf8(line)))} ${toBase64(await locked(lock, 0, false, new Uint8Array(0)))}`);
  let waiting = new Uint8Array(0);
  let number = 0;
  const lockChunk = async (bytes: Uint8Array, isLast: boolean): Promise<void> => {
    signal?.throwIfAborted();
    add(toBase64(await locked(lock, ++number, isLast, bytes)));
  };
  let done = 0;
  for await (const part of parts) {
    const bytes = joinBytes([waiting, await partToBytes(part)]);
    let at = 0;
    // The last chunk is known only once nothing follows it.
    for (; bytes.length - at > CHUNK; at += CHUNK) await lockChunk(bytes.subarray(at, at + CHUNK), false);
    waiting = bytes.slice(at);
    onProgress?.(Math.min(1, ++done / count));
  }
  await lockChunk(waiting, true);
  return new Blob(lines, { type: 'text/plain' });
}

const hex = (sum: number): string => sum.toString(16).padStart(8, '0');

/**
 * Why a file cannot be brought back:
 * - `nothing`: empty. `book`: one person's log. `plan`: a plan. `notABackup`: something else.
 * - `newerVersion`: made by a newer app.
 * - `damaged`: changed on the way. `cutOff`: the end is missing; what is there is whole.
 * - `wrongPassphrase`.
 */
export type BackupRefusal = 'nothing' | 'book' | 'plan' | 'notABackup' | 'newerVersion' | 'damaged' | 'cutOff' | 'wrongPassphrase';

/** Thrown while a copy is read: what came before it was whole. */
export class BackupFault extends Error {
  override name = 'BackupFault';
  constructor(readonly why: 'damaged' | 'cutOff') {
    super(`the copy is ${why}`);
  }
}

/** A copy whose passphrase was right. */
export interface OpenBackup {
  /** When it was made, UTC. */
  made: string;
  contents: BackupContents;
  /** Reads all of it and keeps nothing. @returns undefined when it is whole. */
  fault: (following?: Following) => Promise<'damaged' | 'cutOff' | undefined>;
  /** Its parts one by one, `contents` first. Throws BackupFault where it is damaged or cut off. */
  parts: (following?: Following) => AsyncGenerator<BackupPart>;
}

export type BackupOpening = { ok: true; backup: OpenBackup } | { ok: false; why: BackupRefusal };

/**
 * Opens a locked copy and reads what is in it, not yet all of it.
 * @param keyOf how the key comes from the passphrase; tests, which open one many times, keep it.
 */
export async function openBackup(file: Blob, passphrase: string, keyOf: typeof passphraseKey = passphraseKey): Promise<BackupOpening> {
  const [first, second] = await firstLines(file);
  if (!first) return { ok: false, why: 'nothing' };
  const header = headerOf(first);
  if (typeof header === 'string') return { ok: false, why: header };
  if (!second?.ended) return { ok: false, why: 'cutOff' };
  const line = first.text;
  const [sum, tag] = second.text.split(' ');
  const check = fromBase64(tag ?? '');
  if (sum !== hex(crc32(utf8(line))) || check?.length !== TAG_BYTES) return { ok: false, why: 'damaged' };
  const salt = fromBase64(header.lock.salt) as Uint8Array;
  const nonce = fromBase64(header.cipher.nonce) as Uint8Array;
  const lock: Lock = { key: await keyOf(passphrase, salt, header.lock.iterations), line, nonce };
  if (!(await unlocked(lock, 0, false, check))) return { ok: false, why: 'wrongPassphrase' };
  const parts = (following?: Following) => partsOf(file, lock, following);
  try {
    for await (const part of parts()) {
      if (part.kind !== 'contents') break;
      const { kind: _kind, ...contents } = part;
      return { ok: true, backup: { made: header.made, contents, parts, fault: (following) => faultOf(parts(following)) } };
    }
    return { ok: false, why: 'damaged' };
  } catch (error) {
    if (error instanceof BackupFault) return { ok: false, why: error.why };
    throw error;
  }
}

/** What a file is not, told by its first line and without a passphrase; undefined for a locked copy. */
export async function backupFault(file: Blob): Promise<BackupRefusal | undefined> {
  const [first] = await firstLines(file);
  const header = first ? headerOf(first) : 'nothing';
  return typeof header === 'string' ? header : undefined;
}

async function firstLines(file: Blob): Promise<Line[]> {
  const lines: Line[] = [];
  for await (const line of linesOf(file.slice(0, 2 * HEADER_MOST), HEADER_MOST)) lines.push(line);
  return lines.slice(0, 2);
}

function headerOf({ text, ended }: Line): Header | BackupRefusal {
  const fields = text.length > HEADER_MOST ? undefined : fieldsOf(parseJson(text));
  const kind = fields?.tendbook ?? /^\{"tendbook":"(\w+)"/.exec(text)?.[1];
  if (kind === 'book') return 'book';
  if (kind === 'plan' || kind === 'signedPlan') return 'plan';
  if (kind !== KIND) return 'notABackup';
  if (typeof fields?.version === 'number' && fields.version > VERSION) return 'newerVersion';
  const header = headerSchema.safeParse(fields);
  return header.success ? header.data : ended || fields ? 'damaged' : 'cutOff';
}

/** The chunks of a copy, unlocked, in order, each with how much of the file is read. Throws BackupFault. */
async function* chunksOf(file: Blob, lock: Lock): AsyncGenerator<{ bytes: Uint8Array; share: number }> {
  const lines = linesOf(file, LINE_MOST);
  await lines.next();
  await lines.next();
  let number = 0;
  let next = await lines.next();
  if (next.done) throw new BackupFault('cutOff');
  while (!next.done) {
    const { text, ended, at } = next.value;
    next = await lines.next();
    const isLast = next.done === true;
    number++;
    const raw = fromBase64(text);
    const bytes = raw && (await unlocked(lock, number, isLast, raw));
    if (!bytes) {
      // At the end of a file: a chunk that is whole but not the last, or half a chunk, tells that more was there.
      const isHalf = !ended && text.length < LINE_MOST;
      const isCut = isLast && (isHalf || (raw && (await unlocked(lock, number, false, raw))));
      throw new BackupFault(isCut ? 'cutOff' : 'damaged');
    }
    yield { bytes, share: at / file.size };
  }
}

async function* partsOf(file: Blob, lock: Lock, { onProgress, signal }: Following = {}): AsyncGenerator<BackupPart> {
  const reader = new PartsReader();
  for await (const { bytes, share } of chunksOf(file, lock)) {
    signal?.throwIfAborted();
    const parts = reader.push(bytes);
    if (!parts) throw new BackupFault('damaged');
    yield* parts;
    onProgress?.(share);
  }
  if (!reader.isBetween) throw new BackupFault('damaged');
}

async function faultOf(parts: AsyncGenerator<BackupPart>): Promise<'damaged' | 'cutOff' | undefined> {
  try {
    for await (const _part of parts);
    return undefined;
  } catch (error) {
    if (error instanceof BackupFault) return error.why;
    throw error;
  }
}

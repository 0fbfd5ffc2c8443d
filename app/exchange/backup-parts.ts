import * as z from 'zod/mini';
import { isLocalDay, type LocalDay } from '../care/schedule/day.ts';
import { boundsFor, photoOf } from './book-content.ts';
import { joinBytes } from './bytes.ts';
import { foreignJson } from './foreign-json.ts';

/**
 * What a locked copy holds, one part after the other: what is in it, the
 * settings, then book by book the book, the keys trusted for it and its months,
 * then drafts, and the photos last, so that of a file that was cut off the log
 * is lost last. Values are as the phone stored them, readable or not.
 */
export type BackupPart =
  | ({ kind: 'contents' } & BackupContents)
  | { kind: 'settings'; value: unknown }
  | { kind: 'book' | 'senders'; book: string; value: unknown }
  | { kind: 'month'; book: string; month: string; value: unknown }
  | { kind: 'draft'; key: string; value: unknown }
  | { kind: 'photo'; photo: string; bytes: Blob };

const id = z.string().check(z.regex(/^[A-Za-z0-9_-]{1,64}$/));
const count = z.int().check(z.nonnegative());
const day = z.string().check(z.refine(isLocalDay)) as unknown as z.ZodMiniType<LocalDay>;
const short = z.string().check(z.maxLength(200));

/** Shown before anything is brought back. Names may be missing where a book's plan cannot be read. */
const contents = z.strictObject({
  books: z
    .array(
      z.strictObject({
        book: id,
        callMe: z.optional(short),
        clinic: z.optional(short),
        revision: z.optional(z.int()),
        records: count,
        first: z.optional(day),
        last: z.optional(day),
      }),
    )
    .check(z.maxLength(100)),
  photos: count,
  photoBytes: count,
});
export type BackupContents = z.infer<typeof contents>;

const head = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('contents') }),
  z.strictObject({ kind: z.literal('settings') }),
  z.strictObject({ kind: z.literal('book'), book: id }),
  z.strictObject({ kind: z.literal('senders'), book: id }),
  z.strictObject({ kind: z.literal('month'), book: id, month: z.string().check(z.regex(/^\d{4}-\d{2}$/)) }),
  z.strictObject({ kind: z.literal('draft'), key: z.string().check(z.regex(/^[a-z]{1,20}:[A-Za-z0-9_:-]{1,140}$/)) }),
  z.strictObject({ kind: z.literal('photo'), photo: id }),
]);
type Head = z.infer<typeof head>;

/** Bytes of a head, and of a month or a photo. Far beyond what any has. */
const HEAD_MOST = 4_096;
const BODY_MOST = 32_000_000;
/** Two lengths, most significant byte first. */
const LENGTHS = 8;

const utf8 = new TextEncoder();

/** One part as bytes: the lengths of its head and its body, the head in JSON, the body. @throws RangeError for one that could not be read again. */
export async function partToBytes(part: BackupPart): Promise<Uint8Array> {
  const [own, body] = await splitPart(part);
  const start = utf8.encode(JSON.stringify(own));
  if (!head.safeParse(own).success || body.length > BODY_MOST) throw new RangeError(`a ${part.kind} that no copy can hold`);
  const lengths = new DataView(new ArrayBuffer(LENGTHS));
  lengths.setUint32(0, start.length);
  lengths.setUint32(4, body.length);
  return joinBytes([new Uint8Array(lengths.buffer), start, body]);
}

async function splitPart(part: BackupPart): Promise<[object, Uint8Array]> {
  if (part.kind === 'photo') {
    const { bytes, ...own } = part;
    return [own, new Uint8Array(await bytes.arrayBuffer())];
  }
  if (part.kind === 'contents') {
    const { kind, ...own } = part;
    return [{ kind }, utf8.encode(JSON.stringify(own))];
  }
  const { value, ...own } = part;
  // What JSON cannot say was never a value of ours; null keeps its place.
  return [own, utf8.encode(JSON.stringify(value) ?? 'null')];
}

/** Puts parts together from bytes as they come. */
export class PartsReader {
  private waiting: Uint8Array[] = [];
  private size = 0;
  private tooLarge = false;

  /** Takes in bytes. @returns the parts that are now whole; undefined for what is no part. */
  push(bytes: Uint8Array): BackupPart[] | undefined {
    this.waiting.push(bytes);
    this.size += bytes.length;
    const parts: BackupPart[] = [];
    for (let need = this.need(); need !== undefined && this.size >= need; need = this.need()) {
      const part = readPart(this.take(need));
      if (!part) return undefined;
      parts.push(part);
    }
    return this.tooLarge ? undefined : parts;
  }

  /** Whether the bytes so far end between two parts. */
  get isBetween(): boolean {
    return this.size === 0;
  }

  /** How many bytes the next part has, lengths included; undefined while that is not known or too much. */
  private need(): number | undefined {
    if (this.size < LENGTHS) return undefined;
    const first = this.waiting[0] as Uint8Array;
    if (first.length < LENGTHS) this.waiting = [joinBytes(this.waiting)];
    const { buffer, byteOffset } = this.waiting[0] as Uint8Array;
    const lengths = new DataView(buffer, byteOffset, LENGTHS);
    const [start, body] = [lengths.getUint32(0), lengths.getUint32(4)];
    this.tooLarge = start > HEAD_MOST || body > BODY_MOST;
    return this.tooLarge ? undefined : LENGTHS + start + body;
  }

  private take(count: number): Uint8Array {
    const whole = this.waiting.length === 1 ? (this.waiting[0] as Uint8Array) : joinBytes(this.waiting);
    this.waiting = count < whole.length ? [whole.subarray(count)] : [];
    this.size -= count;
    return whole.subarray(0, count);
  }
}

function readPart(bytes: Uint8Array): BackupPart | undefined {
  const end = LENGTHS + new DataView(bytes.buffer, bytes.byteOffset).getUint32(0);
  const own = head.safeParse(jsonOf(bytes.subarray(LENGTHS, end)));
  if (!own.success) return undefined;
  const body = bytes.slice(end);
  if (own.data.kind === 'photo') {
    const photo = photoOf(own.data.photo, body);
    return photo && { ...own.data, bytes: photo.bytes };
  }
  const value = jsonOf(body);
  return value === undefined ? undefined : withValue(own.data, value);
}

function withValue(own: Exclude<Head, { kind: 'photo' }>, value: unknown): BackupPart | undefined {
  if (own.kind !== 'contents') return { ...own, value };
  const read = contents.safeParse(value);
  return read.success ? { ...own, ...read.data } : undefined;
}

/** JSON within bounds and without keys of a prototype; undefined for anything else. */
function jsonOf(bytes: Uint8Array): unknown {
  try {
    const parsed = foreignJson(new TextDecoder('utf-8', { fatal: true }).decode(bytes), boundsFor(BODY_MOST));
    return parsed.ok ? parsed.content : undefined;
  } catch {
    return undefined;
  }
}

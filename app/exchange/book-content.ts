import { type LogRecord, readRecords } from '../care/log/records.ts';
import { mergeLogs } from '../care/log/timeline.ts';
import { type Plan, readPlan } from '../care/plan/plan.ts';
import { isLocalDay, type LocalDay } from '../care/schedule/day.ts';
import type { JsonBounds } from './foreign-json.ts';
import { field, fieldsOf } from './plan-json.ts';

/** What a book is wrapped in: `{ "tendbook": "book", "version": 1, … }`. */
export const BOOK = 'book';
/** Version of the wrapping. One from a newer version is refused, never half read. */
export const BOOK_VERSION = 1;

/** No log of a lifetime comes near these; what is beyond is not looked at. */
export const RECORDS_MOST = 200_000;
const PLANS_MOST = 500;
/** With more than this unreadable it is no log any more, and keeping all that aside would slow the phone down for ever. */
const ODD_MOST = 2_000;
export const BOOK_DEPTH_MOST = 24;
export const BOOK_VALUES_MOST = 6_000_000;
export const boundsFor = (letters: number): JsonBounds => ({ letters, depth: BOOK_DEPTH_MOST, values: BOOK_VALUES_MOST });

/** One person's book on its way out. */
export interface BookToSend {
  plan: Plan;
  /** Oldest first, as they are stored; what cannot be read goes along whole. */
  earlierPlans: readonly unknown[];
  /** When the plan was taken into use, UTC. */
  acceptedAt: string;
  /** As they are stored; what cannot be read goes along whole. */
  records: readonly unknown[];
  /** When it was put together, UTC, and the id of the device that did. */
  made: string;
  device: string;
  /** The first day of the records, where not all were chosen. */
  from?: LocalDay | undefined;
}

/** A photo that came with a book: a JPEG by its first bytes. */
export interface SentPhoto {
  id: string;
  bytes: Blob;
}

/** One person's book as it was read. */
export interface SentBook {
  plan: Plan;
  earlierPlans: Plan[];
  acceptedAt: string;
  /** In time order, each id once. */
  records: LogRecord[];
  photos: SentPhoto[];
  made: string;
  device: string;
  /** The first day of the records; undefined when all came. */
  from: LocalDay | undefined;
  /** What did not pass its schema, whole and unchanged: to be kept and told, never used. */
  odd: unknown[];
}

/**
 * Why there is no book in it:
 * - `nothing`: empty. `tooLarge`: beyond all bounds, not looked at.
 * - `plan`: a plan. `backup`: a locked copy of a whole phone. `notABook`: something else.
 * - `cutOff`: the end is missing. `damaged`: changed on the way, or incomplete.
 * - `newerVersion`: made by a newer app.
 * - `unsafe`: built to do harm: nested without end, or with keys that no file of ours has.
 * - `planUnreadable`: its plan has faults, so that nobody knows whose log it is.
 */
export type BookRefusal =
  | 'nothing'
  | 'tooLarge'
  | 'plan'
  | 'backup'
  | 'notABook'
  | 'cutOff'
  | 'damaged'
  | 'newerVersion'
  | 'unsafe'
  | 'planUnreadable';
export type BookArrival = { ok: true; book: SentBook } | { ok: false; why: BookRefusal };

export const refuse = (why: BookRefusal): BookArrival => ({ ok: false, why });

const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,3})?Z$/;
const isInstant = (value: unknown): value is string => typeof value === 'string' && INSTANT.test(value) && !Number.isNaN(Date.parse(value));
const ID = /^[A-Za-z0-9_-]{1,64}$/;
const isId = (value: unknown): value is string => typeof value === 'string' && ID.test(value);
const JPEG = [0xff, 0xd8, 0xff];

/** Records of any origin, each id once. Two contents under one id: the one that loses is among what is odd, named as such. */
export function recordsOf(values: readonly unknown[]): { records: LogRecord[]; odd: unknown[] } {
  const reading = readRecords(values);
  const records = mergeLogs(reading.records, []);
  const stands = new Map(records.map((r) => [r.id, JSON.stringify(r)]));
  const doubled = reading.records.filter((r) => stands.get(r.id) !== JSON.stringify(r));
  return { records, odd: [...reading.unreadable, ...doubled.map((record) => ({ doubled: record }))] };
}

/** A photo in a book: its id and its bytes; undefined for what is none. */
export function photoOf(id: unknown, bytes: Uint8Array<ArrayBuffer> | undefined): SentPhoto | undefined {
  if (!isId(id) || !bytes || !JPEG.every((byte, i) => bytes[i] === byte)) return undefined;
  return { id, bytes: new Blob([bytes], { type: 'image/jpeg' }) };
}

/** The content of a book without its photos, in the order it is written. */
export const contentOf = ({ made, device, from, acceptedAt, plan, earlierPlans, records }: BookToSend): Record<string, unknown> => ({
  tendbook: BOOK,
  version: BOOK_VERSION,
  made,
  device,
  ...(from === undefined ? {} : { from }),
  acceptedAt,
  plan,
  earlierPlans,
  records,
});

/** What the wrapping says of itself, before anything in it is read; undefined when it is a book of this version. */
export function wrappingFault(content: unknown): BookRefusal | undefined {
  const fields = fieldsOf(content);
  const kind = field(fields, 'tendbook');
  if (kind === 'plan' || kind === 'signedPlan') return 'plan';
  if (kind === 'backup') return 'backup';
  if (kind !== BOOK) return 'notABook';
  const version = field(fields, 'version');
  if (typeof version === 'number' && version > BOOK_VERSION) return 'newerVersion';
  return version === BOOK_VERSION ? undefined : 'damaged';
}

/**
 * Reads a book from JSON that is within bounds and of this version. Nothing in
 * it is repaired or dropped.
 * @param photos read beforehand, with what of them was no photo.
 */
export function bookFrom(content: unknown, photos: readonly SentPhoto[], oddPhotos: readonly unknown[]): BookArrival {
  const fields = fieldsOf(content);
  const get = (name: string): unknown => field(fields, name);
  const [made, device, acceptedAt, from, records, earlier] = ['made', 'device', 'acceptedAt', 'from', 'records', 'earlierPlans'].map(get);
  const hasDay = from === undefined || (typeof from === 'string' && isLocalDay(from));
  if (!isInstant(made) || !isId(device) || !isInstant(acceptedAt) || !hasDay || !Array.isArray(records)) return refuse('damaged');
  if (earlier !== undefined && !Array.isArray(earlier)) return refuse('damaged');
  if (records.length > RECORDS_MOST || (earlier?.length ?? 0) > PLANS_MOST) return refuse('tooLarge');
  const reading = readPlan(get('plan'));
  if (!reading.ok) return refuse(reading.faults.some((f) => f.fault === 'newerVersion') ? 'newerVersion' : 'planUnreadable');
  const log = recordsOf(records);
  if (log.odd.length + oddPhotos.length > ODD_MOST) return refuse('damaged');
  const earlierPlans: Plan[] = [];
  const oddPlans: unknown[] = [];
  for (const value of earlier ?? []) {
    const plan = readPlan(value);
    if (plan.ok) earlierPlans.push(plan.plan);
    else oddPlans.push(value);
  }
  return {
    ok: true,
    book: {
      plan: reading.plan,
      earlierPlans,
      acceptedAt,
      records: log.records,
      photos: [...photos],
      made,
      device,
      from: from as LocalDay | undefined,
      odd: [...oddPlans, ...log.odd, ...oddPhotos],
    },
  };
}

import * as z from 'zod/mini';
import { WHO } from '../care/log/records.ts';
import { type Plan, readPlan } from '../care/plan/plan.ts';
import { isLocalDay, type LocalDay } from '../care/schedule/day.ts';

const day = z.string().check(z.refine(isLocalDay)) as unknown as z.ZodMiniType<LocalDay>;
const clock = z.string().check(z.regex(/^([01]\d|2[0-3]):[0-5]\d$/));

/** Where the settings of this phone stand. */
export const SETTINGS_KEY = 'settings';

/** Settings of this phone, shared by all books on it. */
const settingsSchema = z.object({
  language: z.catch(z.optional(z.string().check(z.maxLength(20))), undefined),
  /** Units that nobody has chosen are those of the region; see `unitsOf`. */
  temperatureUnit: z.catch(z.optional(z.enum(['Cel', '[degF]'])), undefined),
  glucoseUnit: z.catch(z.optional(z.enum(['mg/dL', 'mmol/L'])), undefined),
  lengthUnit: z.catch(z.optional(z.enum(['cm', 'in'])), undefined),
  scheme: z.catch(z.enum(['auto', 'light', 'dark']), 'auto'),
  textSize: z.catch(z.enum(['normal', 'large', 'largest']), 'normal'),
  /** Every page is read aloud when it is turned. */
  readAloud: z.catch(z.boolean(), false),
  /** The main button is large enough for a knuckle or an elbow. */
  wideNext: z.catch(z.boolean(), false),
  who: z.catch(z.enum(WHO), 'patient'),
  name: z.catch(z.optional(z.string().check(z.maxLength(40))), undefined),
  device: z.catch(z.optional(z.string().check(z.regex(/^[A-Za-z0-9_-]{1,64}$/))), undefined),
  currentBook: z.catch(z.optional(z.string()), undefined),
  /** Days from ordering supplies to having them. */
  leadDays: z.catch(z.int().check(z.minimum(0), z.maximum(60)), 10),
  /** Per book: the last day on which the person put the supplies notice aside. */
  suppliesSeen: z.catch(z.record(z.string(), z.string()), {}),
  /** Reminders while the app is open; off until the person turns them on. */
  remind: z.catch(z.boolean(), false),
  /** `HH:MM` at which to remind of a change, and the hours in which nothing rings. */
  remindAt: z.catch(clock, '09:00'),
  quietFrom: z.catch(clock, '21:00'),
  quietTo: z.catch(clock, '07:00'),
  /** Per book: how often the calendar file was made, and what the last one held. */
  calendarFiles: z.catch(z.record(z.string(), z.object({ revision: z.int(), sittings: z.int(), visits: z.int() })), {}),
  region: z.catch(z.optional(z.string().check(z.maxLength(2))), undefined),
  /** The phone is in other hands: only the visit page of this book shows, for these days and in these languages, until its owner ends it. */
  handed: z.catch(
    z.optional(
      z.object({ book: z.string(), from: z.optional(day), to: z.optional(day), second: z.optional(z.string().check(z.maxLength(20))) }),
    ),
    undefined,
  ),
  /** After how many days to be reminded to keep a copy; 0 for never. */
  copyEvery: z.catch(z.int().check(z.minimum(0), z.maximum(365)), 14),
  /** The last day on which a copy was kept, and the day until which the reminder was put off. */
  copiedOn: z.catch(z.optional(day), undefined),
  copyLater: z.catch(z.optional(day), undefined),
});
export type Settings = z.infer<typeof settingsSchema>;

/** Reads stored settings; a value that does not fit falls back to its default. */
export function readSettings(value: unknown): Settings {
  const parsed = settingsSchema.safeParse(value ?? {});
  return parsed.success ? parsed.data : settingsSchema.parse({});
}

/** One person's book: the plan in force and those before it. */
export interface Book {
  id: string;
  plan: Plan;
  /** Plans that were in force earlier, oldest first; the log refers to them. */
  earlierPlans: Plan[];
  acceptedAt: string;
  /** The gravest alert of this book that nobody has answered, for when another book is open. */
  openAlert?: 'callToday' | 'callNow' | 'emergency' | undefined;
  /** Months (`YYYY-MM`) to load besides the last two: open alerts, first measurements. A superset does no harm. */
  keepMonths: string[];
}

const headSchema = z.object({
  id: z.string().check(z.regex(/^[A-Za-z0-9_-]{1,64}$/)),
  plan: z.unknown(),
  earlierPlans: z.catch(z.array(z.unknown()), []),
  acceptedAt: z.string(),
  openAlert: z.catch(z.optional(z.enum(['callToday', 'callNow', 'emergency'])), undefined),
  keepMonths: z.catch(z.array(z.string().check(z.regex(/^\d{4}-\d{2}$/))), []),
});

/** The stored value of a book with some parts set anew; everything else stays as it is stored, readable or not. */
export function changedBook(old: unknown, part: Partial<Book>): unknown {
  return typeof old === 'object' && old !== null ? { ...old, ...part } : old;
}

/** Plans that came before the one in a stored book, whether they can be read or not; the one in it last. */
export function plansIn(value: unknown): unknown[] {
  if (value === undefined) return [];
  const head = headSchema.safeParse(value);
  return head.success ? [...head.data.earlierPlans, head.data.plan] : [value];
}

/** Months that a stored book keeps loaded. */
export function keepMonthsIn(value: unknown): string[] {
  const head = headSchema.safeParse(value);
  return head.success ? head.data.keepMonths : [];
}

/** Reads a stored book. @returns undefined when its plan cannot be read: the value is then shown as set aside. */
export function readBook(value: unknown): Book | undefined {
  const head = headSchema.safeParse(value);
  if (!head.success) return undefined;
  const plan = readPlan(head.data.plan);
  if (!plan.ok) return undefined;
  const earlierPlans = head.data.earlierPlans.flatMap((p) => {
    const reading = readPlan(p);
    return reading.ok ? [reading.plan] : [];
  });
  return { ...head.data, plan: plan.plan, earlierPlans };
}

export const bookKey = (id: string): string => `book:${id}`;
/** Where the keys stand that a person has taken as their clinic's, one list for each book, the newest last. */
export const SENDERS_PREFIX = 'senders:';
export const SENDERS_MOST = 8;

/** A stored value that could not be read: whole, unchanged, never used. */
export interface SetAside {
  where: string;
  value: unknown;
}

/** All books on the device, the oldest first, and what of them could not be read. */
export function readBooks(all: ReadonlyMap<string, unknown>): { books: Book[]; setAside: SetAside[] } {
  const books: Book[] = [];
  const setAside: SetAside[] = [];
  for (const [where, value] of all) {
    if (!where.startsWith('book:')) continue;
    const book = readBook(value);
    if (book) books.push(book);
    const unreadable = book ? plansIn(value).filter((plan) => !readPlan(plan).ok) : [value];
    setAside.push(...unreadable.map((part) => ({ where, value: part })));
  }
  books.sort((a, b) => (a.acceptedAt < b.acceptedAt ? -1 : 1));
  return { books, setAside };
}

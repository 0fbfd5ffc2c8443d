import { get, set } from 'idb-keyval';
import * as z from 'zod/mini';
import { type Clinic, clinicSchema } from '../care/plan/plan.ts';
import { type Book, readSettings, type Settings } from './book.ts';
import type { Shelf } from './shelf.ts';

/** What a locked phone shows: whom to call, in the person's language, and nothing of the person. */
export const FRONT_KEY = 'front';

const frontSchema = z.object({
  settings: z.unknown(),
  clinics: z.catch(z.array(clinicSchema), []),
  /** The gravest alert that nobody has answered, of whatever book. */
  openAlert: z.catch(z.optional(z.enum(['callToday', 'callNow', 'emergency'])), undefined),
});

/** Settings that the locked screen needs. */
const SHOWN = ['language', 'scheme', 'textSize', 'region', 'readAloud', 'wideNext'] as const;

const shownOf = (settings: Settings) =>
  Object.fromEntries(SHOWN.map((key) => [key, settings[key]])) as Pick<Settings, (typeof SHOWN)[number]>;

export interface Front {
  settings: Pick<Settings, (typeof SHOWN)[number]>;
  clinics: Clinic[];
  openAlert?: 'callToday' | 'callNow' | 'emergency' | undefined;
}

export async function readFront(shelf: Shelf): Promise<Front> {
  const parsed = frontSchema.safeParse(await get<unknown>(FRONT_KEY, shelf.book));
  const settings = shownOf(readSettings(parsed.success ? parsed.data.settings : undefined));
  const { clinics, openAlert } = parsed.success ? parsed.data : { clinics: [], openAlert: undefined };
  return { settings, clinics, openAlert };
}

const GRAVEST = ['emergency', 'callNow', 'callToday'] as const;

/** Keeps what the locked screen shows, in the clear. */
export async function keepFront(shelf: Shelf, settings: Settings, books: readonly Book[]): Promise<void> {
  const clinics = [...new Map(books.map(({ plan }) => [JSON.stringify(plan.clinic), plan.clinic])).values()];
  const openAlert = GRAVEST.find((level) => books.some((b) => b.openAlert === level));
  await set(FRONT_KEY, structuredClone({ settings: shownOf(settings), clinics, openAlert }), shelf.book);
}

import { entries } from 'idb-keyval';
import { mildestAnswers } from '../../app/care/check/answers.ts';
import { checkItems, sortAnswers } from '../../app/care/check/items.ts';
import type { LogRecord } from '../../app/care/log/records.ts';
import { addDays } from '../../app/care/schedule/day.ts';
import { readBookFile, writeBookFile } from '../../app/exchange/book-file.ts';
import { recordsOfChange, stepsOf } from '../../app/screens/change/finished.ts';
import { alertFor, judgeItems, judgeLook, record } from '../../app/screens/sitting.ts';
import { acceptPlan } from '../../app/store/accept-plan.ts';
import type { ChangeDraft } from '../../app/store/drafts.ts';
import { readFront } from '../../app/store/front.ts';
import { removePasscode, setPasscode, unlock } from '../../app/store/lock.ts';
import { Notebook, SILENT } from '../../app/store/notebook.ts';
import { keepPhoto } from '../../app/store/photos.ts';
import { restore } from '../../app/store/restore.ts';
import { isSealed, openShelf, type Shelf, storedLock } from '../../app/store/shelf.ts';
import { takeBook } from '../../app/store/take-in.ts';
import { everything } from '../../app/store/whole.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { bookOf, FIRST_DAY, lived, picture } from '../exchange/logs.ts';
import old from './fixtures/version-0.json' with { type: 'json' };

/**
 * The acts that write more than one value. Each may be broken off at any
 * moment, by a test that lets a store fail or by one that closes the page, and
 * be done again on what is left, as a person would who opens the app anew.
 */
export interface Act {
  /** Fills an empty phone with what it holds before. */
  prepare(shelf: Shelf, size: number): Promise<void>;
  /** Does the act of a size, or what is left of it. `saved` is told the ids of records that the app has shown as saved. */
  run(shelf: Shelf, saved: (ids: readonly string[]) => void, size: number): Promise<void>;
}

const PASSCODE = 'seven swans';
const ROUNDS = 1000;
const PLAN = demoPlan();
const WOUND = PLAN.wounds[0] as (typeof PLAN.wounds)[number];

/** A device that stands still while something is entered. */
const deviceAt = (at: number, name = 'new') => {
  let count = 0;
  return { now: () => at, zone: () => PLAN.clinic.zone, newId: () => `${name}-${++count}` };
};
/** Sittings are half a day apart, the first so that a month ends among them. */
const timeOf = (sitting: number): number => Date.parse('2031-05-29T14:00:00Z') + sitting * 12 * 3_600_000;

/** Opens a phone as the app does, giving the passcode if there is one. */
export async function openPhone(shelf: Shelf, at = timeOf(0), name = 'new'): Promise<Notebook> {
  if ((await storedLock(shelf)) !== undefined) await unlock(shelf, PASSCODE, at);
  return Notebook.open(shelf, deviceAt(at, name), SILENT);
}

/** A phone in use: the demo plan, six days of records for each size, some photos, words half typed. */
async function usedPhone(shelf: Shelf, size: number): Promise<Notebook> {
  const notebook = await openPhone(shelf, timeOf(0), 'before');
  await acceptPlan(notebook, PLAN);
  await notebook.append(lived(6 * size));
  for (let n = 1; n <= 2; n++) await keepPhoto(shelf, `photo-${n}`, picture(n, 20_000));
  return notebook;
}

const mild = mildestAnswers();
/** The answers of one check by item key, the mildest but for those named. */
const itemsOf = (differs: Record<string, unknown>): Record<string, unknown> =>
  Object.fromEntries(
    checkItems(PLAN).flatMap(({ key, question }) => {
      const answer = differs[question.id] ?? mild[question.id];
      return answer === undefined ? [] : [[key, answer]];
    }),
  );

/** One check, from where its draft stands to the end, every answer kept as a draft; each fourth is an alert, which is then answered. */
async function oneCheck(shelf: Shelf, i: number, saved: (ids: readonly string[]) => void): Promise<void> {
  const notebook = await openPhone(shelf, timeOf(i), `check${i}`);
  const id = `check-${i}`;
  const have = new Set(notebook.state.records.map((r) => r.id));
  if (!have.has(id)) {
    const answers = itemsOf(i % 4 === 1 ? { pain: 'more' } : {});
    const keys = Object.keys(answers);
    for (const [n, at] of keys.entries()) {
      if (n % 4 !== 0) continue;
      const part = Object.fromEntries(keys.slice(0, n + 1).map((k) => [k, answers[k]]));
      await notebook.saveCheckDraft({ id, startedAt: new Date(timeOf(i)).toISOString(), at, answers: part });
    }
    const judgement = judgeItems(notebook, answers);
    const alert = await record(notebook, { ...notebook.stamp(id), kind: 'check', ...sortAnswers(PLAN, answers), judgement }, judgement);
    saved(alert ? [id, alert.id] : [id]);
    await notebook.dropDraftOf('check');
  }
  const open = notebook.openAlerts().find((a) => a.from === id);
  if (!open) return;
  const outcome = { ...notebook.stamp(`${open.id}-outcome`), kind: 'outcome' as const, alerts: [open.id], what: 'reached' as const };
  await notebook.append([outcome]);
  saved([outcome.id]);
}

/** One change with all it uses, every step kept as a draft; each fourth finds more fluid than the plan has a recipe for. */
async function oneChange(shelf: Shelf, i: number, saved: (ids: readonly string[]) => void): Promise<void> {
  const notebook = await openPhone(shelf, timeOf(i), `change${i}`);
  const id = `change-${i}`;
  if (notebook.state.records.some((r) => r.id === id)) return;
  const answers = {
    drainageAmount: i % 4 === 1 ? 'heavy' : 'light',
    drainageColour: 'clear',
    odour: 'none',
    redness: 'none',
    edge: 'usual',
  };
  const start: ChangeDraft = {
    id,
    startedAt: new Date(timeOf(i)).toISOString(),
    wound: WOUND.id,
    position: 0,
    look: 0,
    answers: {},
    gathered: [],
    states: {},
  };
  await notebook.saveChangeDraft(start);
  const looked = { ...start, position: 7, look: 6, answers };
  await notebook.saveChangeDraft(looked);
  const judgement = judgeLook(notebook, WOUND, undefined, answers as never, [id]);
  const alert = alertFor(notebook, judgement, id);
  if (alert) {
    await notebook.append([alert]);
    saved([alert.id]);
  }
  const { after, steps } = stepsOf(WOUND, looked);
  const done: ChangeDraft = { ...looked, path: after.path, ...(alert ? { alert: alert.id } : {}) };
  await notebook.saveChangeDraft(done);
  const states = Object.fromEntries(steps.map(({ step }) => [step, { state: 'done' as const }]));
  const records = recordsOfChange(notebook, WOUND, done, { states, stopped: false, judgement });
  await notebook.append(records);
  saved(records.map((r) => r.id));
  await notebook.dropDraftOf('change');
}

/** Stamps of one phone only: a log from the other one, later, with photos of its own. */
const otherBook = (size: number) => {
  const records = lived(5 * size, { seed: 11, device: 'other-phone', from: addDays(FIRST_DAY, 5 * size) });
  return bookOf(0, { records, device: 'other-phone' });
};
const otherPhotos = new Map([3, 4, 5].map((n) => [`photo-${n}`, picture(n, 20_000)]));

/** Another phone, with stores of its own, whose copy is brought back; filled once. */
async function copiedPhone(size: number): Promise<Shelf> {
  const shelf = openShelf('tendbook-copied');
  const notebook = await Notebook.open(shelf, deviceAt(timeOf(0), 'copied'), SILENT);
  if (notebook.state.settings.textSize === 'large') return shelf;
  await acceptPlan(notebook, PLAN);
  await notebook.append(otherBook(size).records as LogRecord[]);
  for (const [id, bytes] of otherPhotos) await keepPhoto(shelf, id, bytes);
  await notebook.saveCheckDraft({ id: 'copied-draft', startedAt: new Date(timeOf(0)).toISOString(), answers: { unwell: ['none'] } });
  await notebook.saveSettings({ textSize: 'large' });
  return shelf;
}

async function bringBack(shelf: Shelf, saved: (ids: readonly string[]) => void, size: number): Promise<void> {
  const parts = everything(await copiedPhone(size), true);
  const notebook = await openPhone(shelf);
  await notebook.nameDevice();
  await restore(shelf, deviceAt(timeOf(0)), 'this-phone', parts);
  await notebook.refresh();
  saved((otherBook(size).records as LogRecord[]).map((r) => r.id));
}

/** The fixture of version 0 with the same records over and over, so that there are many months. */
function longOld(size: number): { book: object; log: { all: unknown[] } } {
  const all = Array.from({ length: 2 * size }, (_, n) => n).flatMap((n) =>
    (old.log.all as { id: string; day: string; alerts?: string[] }[]).map((value) => {
      const day = `${2030 - n}${value.day.slice(4)}`;
      const alerts = value.alerts?.map((a) => `${a}-${n}`);
      return { ...value, id: `${value.id}-${n}`, day, at: `${day}T12:00:00Z`, ...(alerts && { alerts }) };
    }),
  );
  return { book: old.book, log: { all } };
}

const put = (store: Shelf['log'], values: object): Promise<void> =>
  store('readwrite', (inner) => {
    for (const [key, value] of Object.entries(values)) inner.put(value, key);
    return new Promise((resolve, reject) => {
      inner.transaction.oncomplete = () => resolve();
      inner.transaction.onabort = () => reject(inner.transaction.error);
    });
  });

export const ACTS = {
  check: {
    prepare: async (shelf, size) => void (await usedPhone(shelf, size)),
    run: async (shelf, saved, size) => {
      for (let i = 0; i < size; i++) await oneCheck(shelf, i, saved);
    },
  },
  change: {
    prepare: async (shelf, size) => void (await usedPhone(shelf, size)),
    run: async (shelf, saved, size) => {
      for (let i = 0; i < size; i++) await oneChange(shelf, i, saved);
    },
  },
  plan: {
    prepare: async (shelf, size) => {
      const notebook = await usedPhone(shelf, size);
      await notebook.keepIncoming('the plan that is taken in');
    },
    run: async (shelf, saved) => {
      const notebook = await openPhone(shelf);
      if (notebook.state.incoming === undefined) return;
      await acceptPlan(notebook, { ...PLAN, revision: PLAN.revision + 1 });
      saved(['new-1']);
    },
  },
  merge: {
    prepare: async (shelf, size) => void (await usedPhone(shelf, size)),
    run: async (shelf, saved, size) => {
      const notebook = await openPhone(shelf);
      const arrival = await readBookFile(await writeBookFile(otherBook(size), otherPhotos));
      if (!arrival.ok) throw new Error(arrival.why);
      const { book } = arrival;
      await takeBook(shelf, book, { records: book.records, odd: book.odd, photos: book.photos });
      await notebook.refresh();
      saved(book.records.map((r) => r.id));
    },
  },
  migration: {
    prepare: async (shelf, size) => {
      const { book, log } = longOld(size);
      await put(shelf.book, book);
      await put(shelf.log, log);
    },
    run: async (shelf, saved) => {
      await openPhone(shelf);
      saved((await look(shelf)).records.map(([id]) => id));
    },
  },
  restore: { prepare: async () => {}, run: bringBack },
  restoreBeside: { prepare: async (shelf, size) => void (await usedPhone(shelf, size)), run: bringBack },
  passcode: {
    prepare: async (shelf, size) => {
      const notebook = await usedPhone(shelf, size);
      await notebook.saveCheckDraft({ id: 'half', startedAt: new Date(timeOf(0)).toISOString(), answers: { unwell: ['none'] } });
    },
    run: async (shelf) => {
      const notebook = await openPhone(shelf);
      if (shelf.seal) return;
      await setPasscode(shelf, PASSCODE, 'lock-1', ROUNDS);
      await notebook.saveSettings({ language: notebook.state.settings.language });
    },
  },
  noPasscode: {
    prepare: async (shelf, size) => {
      const notebook = await usedPhone(shelf, size);
      await setPasscode(shelf, PASSCODE, 'lock-1', ROUNDS);
      await notebook.reload();
    },
    run: async (shelf) => {
      await openPhone(shelf);
      if (shelf.seal) await removePasscode(shelf, PASSCODE);
    },
  },
} satisfies Record<string, Act>;
export type ActName = keyof typeof ACTS;
export const ACT_NAMES = Object.keys(ACTS) as ActName[];

/** Takes the demo plan in and leaves a check or a change of which only the last button is left to press. */
export async function halfDone(notebook: Notebook, kind: 'check' | 'change'): Promise<void> {
  await acceptPlan(notebook, PLAN);
  const startedAt = new Date(notebook.device.now()).toISOString();
  if (kind === 'check') {
    const answers = itemsOf({ pain: 'more' });
    return notebook.saveCheckDraft({ id: 'half-check', startedAt, at: checkItems(PLAN).at(-1)?.key, answers });
  }
  const answers = { drainageAmount: 'light', drainageColour: 'clear', odour: 'none', redness: 'none', woundBed: ['red'], edge: 'usual' };
  const draft: ChangeDraft = {
    id: 'half-change',
    startedAt,
    wound: WOUND.id,
    position: 0,
    look: 6,
    path: 'recipe',
    answers,
    gathered: [],
    states: {},
  };
  await notebook.saveChangeDraft({ ...draft, position: stepsOf(WOUND, draft).steps.length - 1 });
}

/** What a person finds who opens the app: every part as plain data, in an order of its own. */
export interface Found {
  /** Every stored record with its content, of whatever month and book. */
  records: [id: string, content: string][];
  photos: string[];
  books: unknown;
  setAside: string[];
  drafts: { id: string; answers: Record<string, unknown> }[];
  openAlerts: string[];
  bookAlert: string | undefined;
  incoming: string | undefined;
  textSize: string;
  locked: boolean;
  /** Keys of values that are in the clear on a locked phone, or closed on one without a passcode. */
  oddlyKept: string[];
  /** Phones of the clinics that the locked screen showed. */
  whomToCall: string[];
}

/** Opens a phone and looks at everything. */
export async function look(shelf: Shelf): Promise<Found> {
  const isLocked = (await storedLock(shelf)) !== undefined;
  const whomToCall = isLocked ? (await readFront(shelf)).clinics.map((c) => c.phone) : [];
  const notebook = await openPhone(shelf);
  const { state } = notebook;
  const records: [string, string][] = [];
  const photos: string[] = [];
  for await (const part of everything(shelf, true)) {
    if (part.kind === 'photo') photos.push(`${part.photo} ${part.bytes.size}`);
    if (part.kind !== 'month') continue;
    for (const value of part.value as { id?: string }[]) records.push([value.id ?? '', JSON.stringify(value)]);
  }
  const oddlyKept: string[] = [];
  for (const store of ['book', 'log', 'photos'] as const) {
    for (const [key, value] of await entries<string, unknown>(shelf[store])) {
      const isOpen = store === 'book' && ['schema', 'lock', 'front'].includes(key);
      if (!isOpen && isSealed(value) !== (shelf.seal !== undefined)) oddlyKept.push(`${store}/${key}`);
    }
  }
  const drafts = [state.checkDraft, state.changeDraft].flatMap((d) => (d ? [{ id: d.id, answers: d.answers }] : []));
  return {
    records: records.sort(([a], [b]) => (a < b ? -1 : 1)),
    photos: photos.sort(),
    books: state.books.map(({ id, plan, earlierPlans, keepMonths }) => ({ id, plan, earlierPlans, keepMonths: [...keepMonths].sort() })),
    setAside: state.setAside.map((s) => JSON.stringify(s)).sort(),
    drafts,
    openAlerts: notebook.openAlerts().map((a) => a.id),
    bookAlert: state.book?.openAlert,
    incoming: state.incoming,
    textSize: state.settings.textSize,
    locked: shelf.seal !== undefined,
    oddlyKept,
    whomToCall,
  };
}

/** A phone on which nothing was found yet; that of version 0 cannot be looked at without being brought up to date. */
export const NOTHING: Found = {
  records: [],
  photos: [],
  books: [],
  setAside: [],
  drafts: [],
  openAlerts: [],
  bookAlert: undefined,
  incoming: undefined,
  textSize: 'normal',
  locked: false,
  oddlyKept: [],
  whomToCall: [],
};

/** What is there before an act. */
export const lookBefore = (name: ActName, shelf: Shelf): Promise<Found> => (name === 'migration' ? Promise.resolve(NOTHING) : look(shelf));

/**
 * What is wrong with a phone whose act was broken off.
 * @param whole what the act leaves where nothing breaks it off. @param saved ids that had been shown as saved.
 */
export function wrongWith(found: Found, before: Found, whole: Found, saved: readonly string[]): string[] {
  const here = new Map(found.records);
  const may = new Map(whole.records);
  const isNot = <T>(list: readonly T[], is: (one: T) => boolean, say: (one: T) => string): string[] =>
    list.filter((one) => !is(one)).map(say);
  const isNoted = found.openAlerts.length > 0 === (found.bookAlert !== undefined);
  return [
    ...(here.size === found.records.length ? [] : ['a record is there twice']),
    ...isNot(
      before.records,
      ([id, content]) => here.get(id) === content,
      ([id]) => `${id} was there before and is lost or changed`,
    ),
    ...isNot(
      saved,
      (id) => here.has(id),
      (id) => `${id} was saved and is lost`,
    ),
    ...isNot(
      found.records,
      ([id, content]) => may.get(id) === content,
      ([id]) => `${id} is not what was written`,
    ),
    ...isNot(
      before.photos,
      (photo) => found.photos.includes(photo),
      (photo) => `${photo} is lost`,
    ),
    ...isNot(
      found.photos,
      (photo) => whole.photos.includes(photo),
      (photo) => `${photo} is not what was written`,
    ),
    ...isNot(
      found.setAside,
      (odd) => whole.setAside.includes(odd),
      (odd) => `set aside: ${odd}`,
    ),
    ...isNot(
      found.drafts,
      (draft) => !here.has(draft.id),
      (draft) => `${draft.id} is offered as a draft although it is written`,
    ),
    ...found.oddlyKept.map((key) => `${key} is ${found.locked ? 'in the clear' : 'closed without a passcode'}`),
    ...(isNoted ? [] : ['the book does not say that an alert is open, or says it of none']),
    ...(found.locked && found.whomToCall.length === 0 ? ['the locked screen knows nobody to call'] : []),
  ];
}

import 'fake-indexeddb/auto';
import fc from 'fast-check';
import { set } from 'idb-keyval';
import { PNG } from 'pngjs';
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { runCaseFile } from '../../app/care/escalation/cases.ts';
import { readRecords } from '../../app/care/log/records.ts';
import { readPlan } from '../../app/care/plan/plan.ts';
import { backupFault } from '../../app/exchange/backup-file.ts';
import { type BackupPart, PartsReader, partToBytes } from '../../app/exchange/backup-parts.ts';
import { collectLog, foldBook, readBookCodes } from '../../app/exchange/book-codes.ts';
import { type BookArrival, contentOf } from '../../app/exchange/book-content.ts';
import { fileOfContent, readBookBytes } from '../../app/exchange/book-file.ts';
import { joinBytes, pack, seal, toBase64Url } from '../../app/exchange/bytes.ts';
import { type KeysArrival, makeKeys, openKeys } from '../../app/exchange/clinic-keys.ts';
import { collect, LOG, partsOf } from '../../app/exchange/code-sequence.ts';
import { openSigned, signPlan } from '../../app/exchange/envelope.ts';
import { LOG_DICTIONARY_NOW, logDictionaryOf } from '../../app/exchange/log-dictionary.ts';
import { claimedPixels } from '../../app/exchange/picture-size.ts';
import { planFromText, planToCode, planToFile } from '../../app/exchange/plan-file.ts';
import { readScaleText, scaleCodeText } from '../../app/exchange/scale/scale-text.ts';
import { type ClinicKeys, sign } from '../../app/exchange/signature.ts';
import { parseRoute } from '../../app/screens/route.ts';
import { readGrams, readHours, readStep } from '../../app/screens/weigh/weighing.ts';
import { knownSenders } from '../../app/screens/welcome/senders.ts';
import { keepMonthsIn, plansIn, readBook, readSettings, SENDERS_PREFIX } from '../../app/store/book.ts';
import { readChangeDraft, readCheckDraft, readWeighDraft } from '../../app/store/drafts.ts';
import { FRONT_KEY, readFront } from '../../app/store/front.ts';
import { readLock } from '../../app/store/lock.ts';
import { readTrace, saveTrace } from '../../app/store/trace-draft.ts';
import { parseNumber } from '../../app/words/format.ts';
import type { Json } from '../care/plan/plans.ts';
import { demoContent, demoPlan } from '../care/plan/plans.ts';
import { newShelf } from '../store/phone.ts';
import { fullLog } from './full-log.ts';
import { bookOf, lived, picture } from './logs.ts';
import { clinic } from './make.ts';
import { mutationsOf } from './mutate.ts';
import { treesOf } from './mutate-tree.ts';

/**
 * Bad inputs to every decoder, made by chance from a seed out of real ones:
 * bytes flipped, cut, doubled and moved, and JSON spoilt within, wrapped again
 * so that no check number stops it. A decoder refuses clearly or gives what its
 * own schema accepts; it never throws, never lends an object anything, and
 * never gives more than its input can hold.
 */
const RUNS = 400;
/** Runs of what asks for cryptography or a store each time. */
const COSTLY = 150;
/** What a decoder gives, in letters, for each letter that it was given; packed input may unfold to its own stated bound. */
const GROWTH = 8;
const UNPACKED = 2_500_000;

let tried = 0;
afterAll(() => console.log(`bad inputs to decoders: ${tried}`));

const OWN = [Object.prototype, Array.prototype, Function.prototype, String.prototype].map((p) => [p, Reflect.ownKeys(p).length] as const);
afterEach(() => {
  expect(OWN.map(([p, count]) => Reflect.ownKeys(p).length - count)).toEqual(OWN.map(() => 0));
  expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
});

/** Whether all objects within are plain: none has got a prototype from what was read. */
function isPlain(value: unknown): boolean {
  if (typeof value !== 'object' || value === null || value instanceof Blob || ArrayBuffer.isView(value)) return true;
  const own = Object.getPrototypeOf(value) as unknown;
  return (own === Object.prototype || own === Array.prototype || own === null) && Object.values(value).every(isPlain);
}

const sizeOf = (value: unknown): number => JSON.stringify(value)?.length ?? 0;
const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const textOf = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

/** Tries a decoder on many inputs. @param fits whether what it gave is a refusal or right. @param most letters it may give for an input. */
async function tryAll<I, R>(
  inputs: fc.Arbitrary<I>,
  read: (input: I) => R | Promise<R>,
  fits: (result: R) => unknown,
  { runs = RUNS, most = (input: I) => 2_000 + GROWTH * sizeOf(input) } = {},
): Promise<void> {
  await fc.assert(
    fc.asyncProperty(inputs, async (input) => {
      tried++;
      const result = await read(input);
      expect(fits(result)).toBe(true);
      expect(isPlain(result)).toBe(true);
      expect(sizeOf(result)).toBeLessThanOrEqual(most(input));
    }),
    { numRuns: runs },
  );
}

const isRefusal = (result: { ok: boolean }): boolean => !result.ok && typeof (result as { why?: unknown }).why === 'string';
const isPlan = (plan: unknown): boolean => {
  const again = readPlan(plan);
  return again.ok && JSON.stringify(again.plan) === JSON.stringify(plan);
};
const isPlanOr = (result: { ok: boolean }): boolean =>
  result.ok ? isPlan((result as unknown as { plan: unknown }).plan) : isRefusal(result);
const isBookOr = (arrival: BookArrival): boolean =>
  arrival.ok ? isPlan(arrival.book.plan) && readRecords(arrival.book.records).unreadable.length === 0 : isRefusal(arrival);
const unpacked = (): number => UNPACKED;

const DAYS = 6;
const realBook = () => bookOf(DAYS, { earlierPlans: [demoPlan()] });
const bookTree = (): Json => JSON.parse(JSON.stringify(contentOf(realBook()))) as Json;
const planTree = (): Json => ({ tendbook: 'plan', plan: demoContent() });

describe('a plan', () => {
  let keys: ClinicKeys;
  beforeAll(async () => {
    keys = (await clinic()).keys;
  });
  const signed = async (content: Json): Promise<string> => {
    const head = { alg: 'ES256', zip: 'DEF', kid: keys.keyId, jwk: keys.publicKey };
    const text = `${toBase64Url(bytesOf(JSON.stringify(head)))}.${toBase64Url(pack(JSON.stringify(content)))}`;
    return `${text}.${toBase64Url(await sign(text, keys))}`;
  };

  test('as a file', () => tryAll(mutationsOf(bytesOf(planToFile(demoPlan()))).map(textOf), planFromText, isPlanOr));
  test('as a file, spoilt within', () =>
    tryAll(
      treesOf(planTree()).map((c) => JSON.stringify(c)),
      planFromText,
      isPlanOr,
    ));
  test('as a code', () => tryAll(mutationsOf(bytesOf(planToCode(demoPlan()))).map(textOf), planFromText, isPlanOr, { most: unpacked }));
  test('as a code, spoilt within', () =>
    tryAll(
      treesOf(planTree()).map((c) => `1.${toBase64Url(seal(JSON.stringify(c)))}`),
      planFromText,
      isPlanOr,
      { most: unpacked },
    ));
  test('signed', async () => {
    const real = await signPlan(demoPlan(), keys);
    await tryAll(mutationsOf(bytesOf(real)).map(textOf), (text) => openSigned(text, [keys.publicKey]), isPlanOr, { most: unpacked });
  });
  test('signed, spoilt within by whoever signed it', () =>
    tryAll(treesOf(planTree()), async (c) => openSigned(await signed(c), [keys.publicKey]), isPlanOr, { runs: COSTLY, most: unpacked }));
  test('as one of several codes', () => {
    const part = partsOf(new Uint8Array(3_000).fill(7), 2_000)?.[0] as string;
    return tryAll(
      mutationsOf(bytesOf(part)).map(textOf),
      (text) => collect(undefined, text).event,
      (event) => ['notAPart', 'added'].includes(event),
    );
  });
});

describe('a book', () => {
  test('as a file', async () => {
    const real = new Uint8Array(await fileOfContent(JSON.stringify(bookTree())).arrayBuffer());
    await tryAll(mutationsOf(real), readBookBytes, isBookOr, { most: (bytes) => 2_000 + GROWTH * bytes.length });
  });
  test('as a file, spoilt within and its sum put right', () =>
    tryAll(
      treesOf(bookTree()),
      async (c) => readBookBytes(new Uint8Array(await fileOfContent(JSON.stringify(c)).arrayBuffer())),
      isBookOr,
    ));
  test('as the bytes of codes', () => tryAll(mutationsOf(foldBook(realBook())), readBookCodes, isBookOr, { most: unpacked }));
  test('as the bytes of codes, spoilt within', () => {
    const packed = (c: Json) => pack(JSON.stringify(c), logDictionaryOf(LOG_DICTIONARY_NOW));
    return tryAll(treesOf(bookTree()), (c) => readBookCodes(joinBytes([Uint8Array.of(1, LOG_DICTIONARY_NOW), packed(c)])), isBookOr, {
      most: unpacked,
    });
  });
  test('as one of several codes', () => {
    const part = partsOf(foldBook(realBook()), 2_000, LOG)?.[0] as string;
    return tryAll(
      mutationsOf(bytesOf(`https://alder-street.example/#log=${part}`)).map(textOf),
      (text) => collectLog(undefined, text).event,
      (event) => ['notAPart', 'added', 'damaged', 'complete'].includes(event),
    );
  });
  test('records of every kind', () => {
    const real = JSON.parse(JSON.stringify(fullLog())) as Json[];
    return tryAll(
      treesOf(real),
      (c) => {
        const values = Array.isArray(c) ? c : [c];
        return { count: values.length, ...readRecords(values) };
      },
      ({ count, records, unreadable }) => records.length + unreadable.length === count && readRecords(records).unreadable.length === 0,
    );
  });
});

describe('a locked copy', () => {
  const list: BackupPart[] = [
    { kind: 'contents', books: [{ book: 'nela', callMe: 'Nela', records: 6 }], photos: 1, photoBytes: 64 },
    { kind: 'settings', value: { textSize: 'large' } },
    { kind: 'month', book: 'nela', month: '2031-03', value: lived(2) },
    { kind: 'photo', photo: 'p1', bytes: picture(1) },
  ];
  test('as its parts, once unlocked, in slices of any length', async () => {
    const real = joinBytes(await Promise.all(list.map(partToBytes)));
    await tryAll(
      fc.tuple(mutationsOf(real), fc.integer({ min: 1, max: real.length })),
      ([bytes, slice]) => {
        const reader = new PartsReader();
        const parts: BackupPart[] = [];
        for (let at = 0; at < bytes.length; at += slice) {
          const next = reader.push(bytes.subarray(at, at + slice));
          if (!next) return 'damaged';
          parts.push(...next);
        }
        return parts;
      },
      (found) => found === 'damaged' || found.every((part) => list.some((own) => own.kind === part.kind)),
      { most: ([bytes]) => 2_000 + GROWTH * bytes.length },
    );
  });
  test('by its first line', () => {
    const header = {
      tendbook: 'backup',
      version: 1,
      made: '2031-06-04T15:00:00.000Z',
      lock: { name: 'PBKDF2', hash: 'SHA-256', iterations: 600_000, salt: 'AAAAAAAAAAAAAAAAAAAAAA==' },
      cipher: { name: 'AES-GCM', nonce: 'AAAAAAAAAA==', chunk: 1 << 20 },
    };
    return tryAll(
      fc.oneof(
        treesOf(header).map((c) => `${JSON.stringify(c)}\n`),
        mutationsOf(bytesOf(`${JSON.stringify(header)}\n`)).map(textOf),
      ),
      (text) => backupFault(new Blob([text])),
      (why) => why === undefined || /^(nothing|book|plan|notABackup|newerVersion|damaged|cutOff)$/.test(why),
    );
  });
});

describe('a clinic’s locked keys', () => {
  afterAll(() => vi.restoreAllMocks());

  test('as a file', async () => {
    // Deriving a key takes a good part of a second each time; any other key does as well here.
    const key = await crypto.subtle.generateKey({ name: 'AES-GCM', length: 256 }, false, ['encrypt', 'decrypt']);
    vi.spyOn(crypto.subtle, 'deriveKey').mockResolvedValue(key);
    const { file } = await makeKeys('four herons over the mill');
    const fits = (arrival: KeysArrival): boolean => (arrival.ok ? arrival.keys.publicKey.crv === 'P-256' : isRefusal(arrival));
    const read = (text: string) =>
      openKeys(text, 'four herons over the mill').then((a) => (a.ok ? { ...a, keys: { ...a.keys, privateKey: null as never } } : a));
    await tryAll(mutationsOf(bytesOf(file)).map(textOf), read, fits, { runs: COSTLY });
    await tryAll(
      treesOf(JSON.parse(file) as Json).map((c) => JSON.stringify(c)),
      read,
      fits,
      { runs: COSTLY },
    );
  });
});

describe('what the phone has stored', () => {
  const at = '2031-03-04T15:00:00.000Z';
  const same =
    <R>(read: (value: unknown) => R) =>
    (result: R) =>
      result === undefined || JSON.stringify(read(result)) === JSON.stringify(result);
  const READERS: [string, Json, (value: unknown) => unknown][] = [
    [
      'settings',
      {
        language: 'es',
        temperatureUnit: 'Cel',
        scheme: 'dark',
        textSize: 'large',
        who: 'patient',
        name: 'Ana',
        device: 'd-1',
        currentBook: 'nela',
        leadDays: 10,
        suppliesSeen: { nela: '2031-03-04' },
        remindAt: '09:00',
        calendarFiles: { nela: { revision: 1, sittings: 2, visits: 3 } },
        handed: { book: 'nela', from: '2031-03-04' },
        copyEvery: 14,
        copiedOn: '2031-03-04',
      },
      readSettings,
    ],
    ['a book', { id: 'nela', plan: demoContent(), earlierPlans: [demoContent()], acceptedAt: at, keepMonths: ['2031-03'] }, readBook],
    ['a draft of a check', { id: 'c1', startedAt: at, at: 'pain', answers: { pain: 'more' }, told: 'callToday' }, readCheckDraft],
    [
      'a draft of a change',
      {
        id: 'g1',
        startedAt: at,
        wound: 'w1',
        position: 3,
        look: 1,
        answers: {},
        path: 'recipe',
        gathered: ['x'],
        states: { a: { state: 'done' } },
      },
      readChangeDraft,
    ],
    ['a draft of a weighing', { id: 'w1', startedAt: at, wound: 'w1', at: 'dry', answers: { dry: '12' } }, readWeighDraft],
    [
      'a lock',
      { version: 1, id: 'l1', salt: [1], rounds: 600_000, iv: [1], wrapped: {}, state: 'on', after: 5, wrong: 0, wrongAt: 0 },
      readLock,
    ],
  ];
  test.each(READERS)('%s', (_name, real, read) => tryAll(treesOf(real), read, same(read)));

  test('what of a book is told before it is read', () =>
    tryAll(
      treesOf({ id: 'nela', plan: demoContent(), earlierPlans: [demoContent()], acceptedAt: at, keepMonths: ['2031-03'] }),
      (value) => ({ months: keepMonthsIn(value), plans: plansIn(value).length }),
      ({ months, plans }) => plans >= 1 && months.every((m) => /^\d{4}-\d{2}$/.test(m)),
    ));

  test('what the locked screen shows', async () => {
    const shelf = newShelf();
    const { clinic: own } = demoPlan();
    const real = JSON.parse(
      JSON.stringify({ settings: { language: 'es', textSize: 'large' }, clinics: [own, own], openAlert: 'callNow' }),
    ) as Json;
    await tryAll(
      treesOf(real),
      async (value) => {
        await set(FRONT_KEY, value, shelf.book);
        return readFront(shelf);
      },
      ({ clinics }) => clinics.every((c) => isPlan({ ...demoPlan(), clinic: c })),
      { runs: COSTLY },
    );
  });

  test('an edge that is being traced', async () => {
    const shelf = newShelf();
    await tryAll(
      treesOf({ shares: Array.from({ length: 20 }, (_, i) => [i / 20, 0.5]), card: [[0, 0]] }),
      async (value) => {
        await saveTrace(shelf, 'p1', value as never);
        return readTrace(shelf, 'p1');
      },
      (trace) => trace === undefined || trace.shares.every((s) => s.length === 2 && s.every((n) => Number.isFinite(n))),
      { runs: COSTLY },
    );
  });

  test('the keys of clinics', async () => {
    const shelf = newShelf();
    const { publicKey } = (await clinic()).keys;
    await tryAll(
      treesOf([{ ...publicKey }]),
      async (value) => {
        await set(`${SENDERS_PREFIX}nela`, value, shelf.book);
        return [...(await knownSenders(shelf)).values()].flat();
      },
      (keys) => keys.every((key) => key.x.length === 43 && key.y.length === 43 && Object.keys(key).length === 4),
      { runs: COSTLY },
    );
  });
});

describe('short texts', () => {
  const texts = (...real: string[]) =>
    fc.oneof(...real.map((text) => mutationsOf(bytesOf(text)).map(textOf)), fc.string({ unit: 'binary', maxLength: 60 }));
  const upTo = (most: number) => (value: number | undefined) => value === undefined || (value >= 0 && value <= most);
  const typed = texts('36.8', '1,5', '٣٦٫٨', '9999', '0.25', '1e9', '-4', '0x10', 'Infinity', '\u206636.8\u2069');

  test('a number as typed', () => tryAll(typed, parseNumber, upTo(9_999.99)));
  test('a weight, hours and the step of a scale as typed', async () => {
    await tryAll(typed, readGrams, upTo(999));
    await tryAll(typed, readHours, upTo(744));
    await tryAll(typed, (text) => readStep({ dry: '', used: '', step: 'other', otherStep: text, worn: '', hours: '' }), upTo(100));
  });
  test('the text of a scale code', () =>
    tryAll(texts(scaleCodeText(40)), readScaleText, (side) => side === undefined || (side >= 20 && side <= 100)));
  test('a place in the address', () =>
    tryAll(texts('#/log/c1/correct', '#/%F0%9F', '#/__proto__/constructor', '#//'), parseRoute, (route) =>
      route.every((p) => typeof p === 'string'),
    ));
});

describe('the beginning of a picture', () => {
  const part = (marker: number, content: readonly number[]) => [
    0xff,
    marker,
    (content.length + 2) >> 8,
    (content.length + 2) & 255,
    ...content,
  ];
  const jpeg = Uint8Array.from([
    0xff,
    0xd8,
    ...part(0xe1, new Array(500).fill(7)),
    0xff,
    ...part(0xdb, [1, 2, 3]),
    ...part(0xc0, [8, 11, 184, 15, 160, 1, 1, 0x11, 0]),
  ]);
  const png = new Uint8Array(PNG.sync.write(new PNG({ width: 31, height: 17 })));
  test('as a JPEG or a PNG', () =>
    tryAll(
      fc.oneof(mutationsOf(jpeg), mutationsOf(png)),
      claimedPixels,
      (n) => n === undefined || (Number.isInteger(n) && n >= 0 && n < 2 ** 64),
    ));
});

test('a file of cases', () =>
  tryAll(
    treesOf([
      {
        name: 'a',
        source: 's',
        now: '2031-03-04T09:00:00+00:00',
        plan: {},
        answers: { pain: 'more' },
        history: [{ at: '2031-03-02T09:00:00+00:00' }],
        expect: { level: 'callNow', rules: ['two-signs'] },
      },
    ]),
    runCaseFile,
    (results) => results.every((r) => Array.isArray(r.problems)),
    { runs: COSTLY },
  ));

test('a decoder that copies keys one by one, or lets a fault through, would be found', async () => {
  const copied = (value: unknown): unknown => {
    if (typeof value !== 'object' || value === null) return value;
    const copy: Record<string, unknown> = {};
    for (const [key, inner] of Object.entries(value)) copy[key] = copied(inner);
    return copy;
  };
  const before = tried;
  await expect(tryAll(treesOf({ a: { b: 1 } }), copied, () => true)).rejects.toThrow();
  await expect(
    tryAll(
      mutationsOf(bytesOf('{"a":1}')),
      (b) => JSON.parse(textOf(b)) as unknown,
      () => true,
    ),
  ).rejects.toThrow();
  tried = before;
});

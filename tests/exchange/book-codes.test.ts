import { createHash } from 'node:crypto';
import zlib from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { mergeLogs } from '../../app/care/log/timeline.ts';
import { addDays } from '../../app/care/schedule/day.ts';
import { bookCodes, collectLog, fileOfCodes, foldBook, logPartIn, readBookCodes } from '../../app/exchange/book-codes.ts';
import { type BookArrival, wrappingFault } from '../../app/exchange/book-content.ts';
import { readBookBytes } from '../../app/exchange/book-file.ts';
import { type Collected, collect, LOG } from '../../app/exchange/code-sequence.ts';
import { LOG_DICTIONARY_NOW, logDictionaryOf } from '../../app/exchange/log-dictionary.ts';
import { planFromText } from '../../app/exchange/plan-file.ts';
import { VERSION_MOST } from '../../app/exchange/qr-write.ts';
import { note } from '../care/log/make.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { bookOf, FIRST_DAY, lived } from './logs.ts';
import { ADDRESS } from './make.ts';
import { mutationsOf } from './mutate.ts';

const why = (arrival: BookArrival): string => (arrival.ok ? 'read' : arrival.why);
function mustRead(arrival: BookArrival) {
  if (!arrival.ok) throw new Error(arrival.why);
  return arrival.book;
}
const textsOf = (days: number): string[] => (bookCodes(bookOf(days), ADDRESS) ?? []).map((c) => c.text);

/** Collects one code after another. */
const run = (texts: readonly string[], from?: Collected) =>
  texts.reduce((last, text) => collectLog(last.state, text), { event: 'notAPart', state: from } as ReturnType<typeof collectLog>);

/** Bytes of a set as a forger would make them: any content, packed as ours. */
function packed(content: unknown, shape = 1, dictionary = LOG_DICTIONARY_NOW): Uint8Array {
  const text = typeof content === 'string' ? content : JSON.stringify(content);
  const body = zlib.deflateRawSync(text, { level: 9, dictionary: logDictionaryOf(LOG_DICTIONARY_NOW) as Uint8Array });
  return Uint8Array.of(shape, dictionary, ...body);
}
const plainContent = (records: readonly unknown[] = lived(2), more: object = {}) => ({
  ...bookOf(2),
  tendbook: 'book',
  version: 1,
  records,
  ...more,
});

describe('a log as a set of codes', () => {
  test('two weeks take four codes and three months seventeen; a year travels as a file', () => {
    const rows: Record<string, Record<string, number | string>> = {};
    for (const days of [7, 14, 30, 60, 90, 180, 365]) {
      const book = bookOf(days);
      const codes = bookCodes(book, ADDRESS);
      for (const c of codes ?? []) expect(c.version).toBeLessThanOrEqual(VERSION_MOST);
      rows[`${days} days`] = {
        records: book.records.length,
        json: JSON.stringify(book.records).length,
        deflated: zlib.deflateRawSync(JSON.stringify(book), { level: 9 }).length,
        packed: foldBook(book).length,
        codes: codes?.length ?? 'file',
      };
    }
    console.table(rows);
    expect(rows['14 days']?.codes).toBeLessThanOrEqual(12);
    expect(rows['90 days']?.codes).toBeLessThanOrEqual(LOG.most);
    expect(rows['365 days']?.codes).toBe('file');
  });

  test('comes back whole in any order, every record letter for letter', () => {
    const own = textsOf(14);
    const book = bookOf(14);
    fc.assert(
      fc.property(fc.shuffledSubarray(own, { minLength: own.length }), (order) => {
        const last = run(order);
        if (last.event !== 'complete') throw new Error(last.event);
        const read = mustRead(readBookCodes(last.bytes));
        expect(read.records.map((r) => JSON.stringify(r))).toEqual(mergeLogs(lived(14), []).map((r) => JSON.stringify(r)));
        expect(read).toMatchObject({
          plan: book.plan,
          earlierPlans: [],
          acceptedAt: book.acceptedAt,
          made: book.made,
          device: book.device,
          photos: [],
          odd: [],
        });
      }),
      { numRuns: 30 },
    );
  });

  test('earlier versions of the plan go along, and ten of them cost about a code or two', () => {
    const versions = Array.from({ length: 10 }, (_, i) => ({
      ...demoPlan(),
      revision: i + 1,
      issued: addDays(FIRST_DAY, 14 * i),
      wounds: demoPlan().wounds.map((w) => ({ ...w, baseline: { day: addDays(FIRST_DAY, 14 * i), lengthMm: 30 - i, widthMm: 20 - i } })),
    }));
    const book = bookOf(14, { earlierPlans: versions, plan: { ...demoPlan(), revision: 11 } });
    expect(mustRead(readBookCodes(foldBook(book))).earlierPlans).toEqual(versions);
    expect(foldBook(book).length - foldBook({ ...book, earlierPlans: [] }).length).toBeLessThan(1_500);
  });

  test('as a file it is read as the same log, and the file cannot be cut or changed unnoticed', async () => {
    const bytes = foldBook(bookOf(7));
    const file = new Uint8Array(await (fileOfCodes(bytes) as Blob).arrayBuffer());
    expect(readBookBytes(file)).toEqual(readBookCodes(bytes));
    expect(why(readBookBytes(file.slice(0, -30)))).toBe('cutOff');
    expect(why(readBookBytes(file.map((b, i) => (i === 900 ? b ^ 1 : b))))).toBe('damaged');
    expect(fileOfCodes(Uint8Array.of(1, 1, 9, 9))).toBeUndefined();
  });

  test('a short one is a set of one code', () => {
    const texts = textsOf(3);
    expect(texts).toHaveLength(2);
    const [only] = (bookCodes({ ...bookOf(1), records: [note('n')] }, ADDRESS) ?? []).map((c) => c.text);
    expect(run([only as string]).event).toBe('complete');
    expect(run(texts.slice(0, 1)).event).toBe('added');
  });

  test('unpacked by another inflater with the same dictionary it is the JSON that was meant (reference: zlib)', () => {
    const folded = foldBook(bookOf(7));
    const json = zlib
      .inflateRawSync(folded.subarray(2), { dictionary: logDictionaryOf(LOG_DICTIONARY_NOW) as Uint8Array })
      .toString('utf8');
    expect(wrappingFault(JSON.parse(json))).toBeUndefined();
    expect(readBookCodes(packed(json))).toEqual(readBookCodes(folded));
  });

  test('records of two devices and two people keep their own; what cannot be read goes along whole', () => {
    const own = [
      note('a', '2031-03-04T09:00'),
      note('b', '2031-03-04T10:00', 'x', { device: 'phone-2', by: { who: 'caregiver', name: 'Ilse' }, plan: null }),
    ];
    const odd = [{ id: 'odd', kind: 'fromTheFuture', zone: 'UTC' }, null, 'torn', [1], { doubled: 1 }];
    const read = mustRead(readBookCodes(foldBook({ ...bookOf(1), records: [...own, ...odd] })));
    expect(read.records).toEqual(own);
    expect(read.odd).toEqual(odd);
  });

  test('from a day on: the day goes along, so that nobody takes a part for the whole', () => {
    const from = addDays(FIRST_DAY, 7);
    expect(mustRead(readBookCodes(foldBook({ ...bookOf(14), from }))).from).toBe(from);
  });

  test('a code of a log is none of a plan, and the other way round', () => {
    const [first] = textsOf(7) as [string];
    const part = logPartIn(first) as string;
    expect(first).toBe(`${ADDRESS}#log=${part}`);
    expect(part).toMatch(/^l01\d\d\d{10}[1-9]\d+$/);
    expect(collect(undefined, part).event).toBe('notAPart');
    expect(planFromText(first)).toEqual({ ok: false, why: 'notAPlan' });
    expect(collectLog(undefined, part.replace('l', 'p'))).toEqual({ event: 'notAPart', state: undefined });
    expect(logPartIn(`${part}\n`)).toBe(part);
    for (const text of ['https://x.example/#plan=p0102', '', 'l01', part.replace('l', 'p'), 'https://x.example/#log=l0']) {
      expect(logPartIn(text)).toBeUndefined();
    }
  });
});

describe('the dictionary of logs', () => {
  test('is frozen: logs packed with it must open for ever', () => {
    const hash = createHash('sha256')
      .update(logDictionaryOf(1) as Uint8Array)
      .digest('hex');
    expect(hash).toBe('ecd12f2942d4d6bc0673039c7c4585a15fa9ba83528702b27cd42d9975708a92');
  });

  test('fits into the window of deflate, and a number that is not there has none', () => {
    expect((logDictionaryOf(1) as Uint8Array).length).toBeLessThan(32_768);
    expect(logDictionaryOf(2)).toBeUndefined();
  });
});

describe('what is no log', () => {
  test.each<[string, string, () => Uint8Array]>([
    ['nothing', 'nothing', () => new Uint8Array(0)],
    ['one byte', 'nothing', () => Uint8Array.of(1)],
    ['another shape', 'newerVersion', () => packed(plainContent(), 2)],
    ['a dictionary of later', 'newerVersion', () => packed(plainContent(), 1, 2)],
    ['a shape that never was', 'damaged', () => packed(plainContent(), 0)],
    ['a newer version inside', 'newerVersion', () => packed({ ...plainContent(), version: 2 })],
    ['a plan inside', 'plan', () => packed({ tendbook: 'plan', plan: demoPlan() })],
    ['other JSON', 'notABook', () => packed([1, 2])],
    ['no JSON', 'damaged', () => packed('hello')],
    ['half of it', 'damaged', () => foldBook(bookOf(7)).slice(0, 900)],
    [
      'a key of a prototype',
      'unsafe',
      () => packed(JSON.stringify(plainContent()).replace('"kind":"check"', '"__proto__":{"x":1},"kind":"check"')),
    ],
    ['no list of records', 'damaged', () => packed({ ...plainContent(), records: {} })],
    ['a plan with faults', 'planUnreadable', () => packed({ ...plainContent(), plan: {} })],
  ])('%s: %s', (_name, reason, make) => {
    expect(why(readBookCodes(make()))).toBe(reason);
  });

  test('a bomb is stopped while it unfolds', () => {
    const bomb = Uint8Array.of(1, 1, ...zlib.deflateRawSync(Buffer.alloc(60_000_000, 0x20), { level: 9 }));
    expect(bomb.length).toBeLessThan(70_000);
    expect(why(readBookCodes(bomb))).toBe('damaged');
  });

  test('any change of the bytes is refused, or gives a book in which every record is one; nothing throws', () => {
    const real = foldBook(bookOf(7));
    fc.assert(
      fc.property(mutationsOf(real), (bytes) => {
        expect(['read', 'nothing', 'damaged', 'newerVersion', 'notABook', 'planUnreadable', 'unsafe', 'plan']).toContain(
          why(readBookCodes(bytes)),
        );
      }),
      { numRuns: 3 * (fc.readConfigureGlobal().numRuns ?? 300) },
    );
  });

  test('any change of the codes is noticed before the log is read', () => {
    const texts = textsOf(7);
    fc.assert(
      fc.property(fc.nat(texts.length - 1), fc.nat(), fc.integer({ min: 1, max: 9 }), (which, where, by) => {
        const spoilt = texts.map((text, i) => {
          if (i !== which) return text;
          const head = text.indexOf('#log=l') + 16 + 5;
          const at = head + (where % (text.length - head));
          return text.slice(0, at) + ((Number(text[at]) + by) % 10) + text.slice(at + 1);
        });
        expect(['damaged', 'foreign', 'added', 'notAPart']).toContain(run(spoilt).event);
      }),
    );
  });

  test('texts of any kind are no part', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.bigInt({ min: 0n, max: 10n ** 60n }).map((n) => `#log=l${n}`),
        ),
        (text) => {
          expect(['notAPart', 'added', 'damaged', 'complete']).toContain(collectLog(undefined, text).event);
        },
      ),
    );
  });
});

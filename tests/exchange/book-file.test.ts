import zlib from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readRecords } from '../../app/care/log/records.ts';
import { mergeLogs } from '../../app/care/log/timeline.ts';
import { type BookArrival, type BookRefusal, RECORDS_MOST } from '../../app/exchange/book-content.ts';
import { FILE_PHOTOS_MOST, looksLikeBook, readBookBytes, readBookFile, writeBookFile } from '../../app/exchange/book-file.ts';
import { crc32 } from '../../app/exchange/bytes.ts';
import { planToFile, signedToFile } from '../../app/exchange/plan-file.ts';
import { check, note } from '../care/log/make.ts';
import { allPaths, demoPlan, type Json, put } from '../care/plan/plans.ts';
import { bookOf, lived, picture } from './logs.ts';
import { clinic } from './make.ts';
import { mutationsOf } from './mutate.ts';

const encode = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);
const bytesOf = async (blob: Blob): Promise<Uint8Array<ArrayBuffer>> => new Uint8Array(await blob.arrayBuffer());
const real = await bytesOf(await writeBookFile(bookOf(14), new Map([['photo-1', picture(1)]])));
const realText = new TextDecoder().decode(real);

/** A file of any content with the sum that belongs to it, as a forger would write it. */
function withSum(content: Json | object): Uint8Array<ArrayBuffer> {
  const body = JSON.stringify(content).slice(0, -1);
  return encode(`${body},"sum":"${crc32(encode(body)).toString(16).padStart(8, '0')}"}\n`);
}
const contentOf = (): { [key: string]: Json } => {
  const { sum: _sum, ...content } = JSON.parse(realText) as { [key: string]: Json };
  return content;
};
const why = (arrival: BookArrival): BookRefusal | 'read' => (arrival.ok ? 'read' : arrival.why);
function mustRead(arrival: BookArrival) {
  if (!arrival.ok) throw new Error(arrival.why);
  return arrival.book;
}

describe('a book as a file', () => {
  test('comes back whole: plan, earlier plans, every record, the chosen photos', async () => {
    const earlier = { ...demoPlan(), greeting: 'Before.' };
    const sent = { ...bookOf(90, { plan: { ...demoPlan(), revision: 2 } }), earlierPlans: [earlier] };
    const book = mustRead(
      await readBookFile(
        await writeBookFile(
          sent,
          new Map([
            ['p1', picture(1)],
            ['p2', picture(2, 4_000)],
          ]),
        ),
      ),
    );
    expect(book.plan).toEqual(sent.plan);
    expect(book.earlierPlans).toEqual([earlier]);
    expect(book.records).toEqual(mergeLogs(lived(90, { plan: sent.plan }), []));
    expect(book).toMatchObject({ acceptedAt: sent.acceptedAt, made: sent.made, device: sent.device, from: undefined, odd: [] });
    expect(await Promise.all(book.photos.map(async (p) => [p.id, await bytesOf(p.bytes)]))).toEqual([
      ['p1', await bytesOf(picture(1))],
      ['p2', await bytesOf(picture(2, 4_000))],
    ]);
  });

  test('records stand letter for letter as they were stored, so that two phones agree on every one', async () => {
    const sent = bookOf(30);
    const book = mustRead(await readBookFile(await writeBookFile(sent)));
    const before = new Map(lived(30).map((r) => [r.id, JSON.stringify(r)]));
    for (const r of book.records) expect(JSON.stringify(r)).toBe(before.get(r.id));
  });

  test('without photos chosen there are none in it, not even their ids beyond the log', () => {
    const { photos, ...rest } = JSON.parse(realText) as Record<string, unknown>;
    expect(photos).toHaveLength(1);
    expect(Object.keys(rest)).toEqual(['tendbook', 'version', 'made', 'device', 'acceptedAt', 'plan', 'earlierPlans', 'records', 'sum']);
  });

  test('its sum is the CRC-32 of what stands before it (reference: zlib)', () => {
    const end = realText.indexOf(',"sum":"');
    const sum = zlib.crc32(realText.slice(0, end));
    expect(realText.slice(end)).toBe(`,"sum":"${sum.toString(16).padStart(8, '0')}"}\n`);
    // Continued over parts it is the same.
    expect(crc32(real.subarray(100), crc32(real.subarray(0, 100)))).toBe(crc32(real));
  });

  test('a mark of byte order in front and blanks behind do no harm', () => {
    expect(why(readBookBytes(Uint8Array.of(0xef, 0xbb, 0xbf, ...real)))).toBe('read');
    expect(why(readBookBytes(encode(`${realText}\r\n\r\n`)))).toBe('read');
  });

  test('what cannot be read goes along and comes back whole, told apart', async () => {
    const odd = { id: 'x', kind: 'fromTheFuture', deep: [{ a: 1 }] };
    const tornPlan = { version: 1, id: 'torn' };
    const sent = { ...bookOf(3), records: [...lived(3), odd, null, 'torn'], earlierPlans: [tornPlan, demoPlan()] };
    const book = mustRead(await readBookFile(await writeBookFile(sent)));
    expect(book.records).toHaveLength(lived(3).length);
    expect(book.earlierPlans).toEqual([demoPlan()]);
    expect(book.odd).toEqual([tornPlan, odd, null, 'torn']);
  });

  test('two contents under one id: the newer stands, the other is kept aside', async () => {
    const [older, newer] = [note('n', '2031-03-04T09:00', 'first'), note('n', '2031-03-05T09:00', 'second')];
    const book = mustRead(await readBookFile(await writeBookFile({ ...bookOf(1), records: [newer, older, newer] })));
    expect(book.records).toEqual([newer]);
    expect(book.odd).toEqual([{ doubled: older }]);
  });

  test('more photos than a phone can hold in memory are refused before they are read', async () => {
    const large = { size: FILE_PHOTOS_MOST + 1 } as Blob;
    await expect(writeBookFile(bookOf(1), new Map([['p', large]]))).rejects.toThrow(RangeError);
  });
});

describe('what is no book says so in its own way', () => {
  test.each<[string, BookRefusal, () => Uint8Array | Promise<Uint8Array>]>([
    ['an empty file', 'nothing', () => encode('')],
    ['blanks', 'nothing', () => encode(' \n')],
    ['a plan', 'plan', () => encode(planToFile(demoPlan()))],
    ['a signed plan', 'plan', () => encode(signedToFile('eyJ.e30.e30'))],
    ['a clinic’s keys', 'notABook', async () => encode((await clinic()).file)],
    ['the first line of a locked copy', 'backup', () => encode('{"tendbook":"backup","version":1}\nabc\n')],
    ['a locked copy of one line', 'backup', () => encode('{"tendbook":"backup","version":1}')],
    ['other JSON', 'notABook', () => encode('{"hello":[1,2]}')],
    ['a list', 'notABook', () => encode('[1]')],
    ['text', 'notABook', () => encode('Dear clinic,')],
    ['a picture', 'notABook', () => bytesOf(picture(1, 500))],
    ['half a file', 'cutOff', () => real.slice(0, real.length / 2)],
    ['all but the last letters', 'cutOff', () => real.slice(0, -6)],
    ['a file cut within a letter of two bytes', 'cutOff', () => Uint8Array.of(...encode('{"tendbook":"book","a":"'), 0xc3)],
    ['a newer version', 'newerVersion', () => withSum({ ...contentOf(), version: 2 })],
    ['a newer version of another shape', 'newerVersion', () => encode('{"tendbook":"book","version":7,"packed":"…"}')],
    ['an older version that never was', 'damaged', () => withSum({ ...contentOf(), version: 0 })],
    ['no version', 'damaged', () => withSum({ tendbook: 'book' })],
    ['a plan of a newer version', 'newerVersion', () => withSum(put(contentOf(), ['plan', 'version'], 2) as object)],
    ['a plan with faults', 'planUnreadable', () => withSum(put(contentOf(), ['plan', 'clinic', 'phone'], '911;ext=1') as object)],
    ['no plan', 'planUnreadable', () => withSum({ ...contentOf(), plan: null })],
    ['no records', 'damaged', () => withSum({ ...contentOf(), records: 'none' })],
    ['no time', 'damaged', () => withSum({ ...contentOf(), made: 'yesterday' })],
    ['another device’s name', 'damaged', () => withSum({ ...contentOf(), device: '<b>' })],
    ['a first day that is none', 'damaged', () => withSum({ ...contentOf(), from: '2031-02-30' })],
    ['a wrong sum', 'damaged', () => encode(realText.replace(/"sum":"(.)/, (_, d) => `"sum":"${d === '0' ? '1' : '0'}`))],
    ['no sum', 'damaged', () => encode(JSON.stringify(contentOf()))],
    ['a changed digit', 'damaged', () => encode(realText.replace('36.', '37.'))],
    ['a changed bracket', 'damaged', () => encode(realText.replace('"records":[', '"records":('))],
  ])('%s: %s', async (_name, reason, make) => {
    const bytes = await make();
    expect(why(readBookBytes(bytes))).toBe(reason);
    expect(why(await readBookFile(new Blob([new Uint8Array(bytes)])))).toBe(reason);
  });

  test('a file beyond all sizes is not even opened', async () => {
    const file = { size: 48_000_001, arrayBuffer: () => Promise.reject(new Error('opened')) } as unknown as Blob;
    expect(await readBookFile(file)).toEqual({ ok: false, why: 'tooLarge' });
  });

  test('more records than a lifetime has are not looked at one by one', () => {
    expect(why(readBookBytes(withSum({ ...contentOf(), records: Array(RECORDS_MOST + 1).fill(0) })))).toBe('tooLarge');
  });

  test('a glance at the beginning tells a book from a plan', async () => {
    expect(await looksLikeBook(new Blob([real]))).toBe(true);
    expect(await looksLikeBook(new Blob([real.slice(0, 300)]))).toBe(true);
    expect(await looksLikeBook(new Blob([planToFile(demoPlan())]))).toBe(false);
  });
});

describe('a file made to do harm', () => {
  test.each(['__proto__', 'constructor', 'prototype'])('a key %s anywhere is refused, and lends no object anything', (key) => {
    for (const path of [[], ['plan'], ['records', 0], ['records', 0, 'wounds'], ['records', 0, 'wounds', 'w1'], ['photos', 0]]) {
      expect([path, why(readBookBytes(withSum(put(contentOf(), [...path, key], { polluted: true }) as object)))]).toEqual([path, 'unsafe']);
    }
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
  });

  test('lists within lists without end are refused, however deep', () => {
    for (const deep of [30, 3_000, 200_000]) {
      const text = realText.replace('"records":[', `"records":[${'['.repeat(deep)}${']'.repeat(deep)},`);
      expect(why(readBookBytes(encode(text)))).toBe('unsafe');
    }
  });

  test('thousands of entries that cannot be read are no log, and are not kept', () => {
    const many = (count: number) => withSum({ ...contentOf(), records: Array.from({ length: count }, (_, i) => ({ kind: 'wish', i })) });
    expect(why(readBookBytes(many(2_000)))).toBe('read');
    expect(why(readBookBytes(many(2_001)))).toBe('damaged');
  });

  test('a file of the largest size of nothing but brackets is refused', () => {
    const text = `{"tendbook":"book","version":1,"records":[${'[],'.repeat(15_000_000)}[]]}`;
    expect(why(readBookBytes(encode(text)))).toBe('unsafe');
  });

  test('a photo that is none is kept aside whole, never stored as one', () => {
    const bad = [
      { id: 'p', type: 'image/jpeg', data: btoa('<svg onload=alert(1)>') },
      { id: '../p', data: '/9j/' },
      { id: 'q', data: 7 },
      'p',
    ];
    const book = mustRead(readBookBytes(withSum({ ...contentOf(), photos: bad })));
    expect(book.photos).toEqual([]);
    expect(book.odd).toEqual(bad);
  });

  test('two photos under one id: the first is taken, the second kept aside', () => {
    const [one] = contentOf().photos as Json[];
    const book = mustRead(readBookBytes(withSum({ ...contentOf(), photos: [one, one] as Json[] })));
    expect(book.photos).toHaveLength(1);
    expect(book.odd).toEqual([one]);
  });

  test('any change of the bytes is noticed: refused, or the very same book', () => {
    fc.assert(
      fc.property(mutationsOf(real), (bytes) => {
        const arrival = readBookBytes(bytes);
        if (arrival.ok) expect(Buffer.compare(bytes, real)).toBe(0);
      }),
      { numRuns: 3 * (fc.readConfigureGlobal().numRuns ?? 300) },
    );
  });

  test('with one field replaced and the sum put right, each record is one or kept aside whole, and none is lost', () => {
    const value = fc.oneof(fc.jsonValue({ maxDepth: 2 }), fc.constantFrom(-1, '', '<b>', 1e308, null, [], {})) as fc.Arbitrary<Json>;
    const small = { ...contentOf(), records: (contentOf().records as Json[]).slice(0, 12) };
    fc.assert(
      fc.property(fc.constantFrom(...allPaths(small).filter((p) => p[0] !== 'plan')), value, (path, given) => {
        const content = put(structuredClone(small), path, given) as { records: unknown[] };
        const arrival = readBookBytes(withSum(content));
        if (!arrival.ok) {
          expect(['damaged', 'unsafe', 'notABook', 'newerVersion', 'plan', 'backup']).toContain(arrival.why);
          return;
        }
        const { records, odd } = arrival.book;
        expect(readRecords(records).unreadable).toEqual([]);
        if (path[0] !== 'records') return;
        expect(records.length + odd.length).toBe(content.records.length);
        for (const r of content.records.filter((r) => readRecords([r]).unreadable.length > 0)) expect(odd).toContainEqual(r);
      }),
    );
  });

  test('bytes of any kind are refused, and nothing throws', () => {
    const like = fc.string().map((s) => encode(`{"tendbook":"book"${s}`));
    const json = fc
      .jsonValue()
      .map((j) => withSum({ tendbook: 'book', version: 1, ...(typeof j === 'object' && !Array.isArray(j) ? j : { j }) }));
    fc.assert(
      fc.property(fc.oneof(fc.uint8Array({ maxLength: 400 }), like, json), (bytes) => {
        expect(readBookBytes(bytes).ok).toBe(false);
      }),
    );
  });
});

test('this file’s own book has checks in it', () => {
  expect(mustRead(readBookBytes(real)).records.some((r) => r.kind === check('x').kind)).toBe(true);
});

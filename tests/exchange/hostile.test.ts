import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { readPlan } from '../../app/care/plan/plan.ts';
import { pack, seal, toBase64Url } from '../../app/exchange/bytes.ts';
import { collect } from '../../app/exchange/code-sequence.ts';
import { openSigned, signPlan } from '../../app/exchange/envelope.ts';
import { type Arrival, arrivalFromText, planFromText, signedToFile } from '../../app/exchange/plan-file.ts';
import { type ClinicKeys, sign } from '../../app/exchange/signature.ts';
import { allPaths, at, demoContent, type Json, mustRead, type Path, put } from '../care/plan/plans.ts';
import { clinic } from './make.ts';

let keys: ClinicKeys;
beforeAll(async () => {
  keys = (await clinic()).keys;
});

/** Signs anything with a key that the phone trusts: a hostile plan may well be signed. */
async function signed(content: unknown): Promise<string> {
  const head = toBase64Url(new TextEncoder().encode(JSON.stringify({ alg: 'ES256', zip: 'DEF', kid: keys.keyId, jwk: keys.publicKey })));
  const text = `${head}.${toBase64Url(pack(JSON.stringify({ tendbook: 'plan', plan: content })))}`;
  return `${text}.${toBase64Url(await sign(text, keys))}`;
}
const unsigned = (content: unknown): string => `1.${toBase64Url(seal(JSON.stringify({ tendbook: 'plan', plan: content })))}`;

/** The plan through each door; both must say the same. */
async function arrive(content: unknown): Promise<Arrival> {
  const own = await arrivalFromText(await signed(content), [keys.publicKey]);
  const plain = planFromText(unsigned(content));
  expect(own.ok).toBe(plain.ok);
  if (own.ok && plain.ok) expect(own.plan).toEqual(plain.plan);
  if (!own.ok && own.why === 'faults') expect(own).toEqual(plain);
  return own;
}

const MARKUP = [
  '<script>alert(1)</script>',
  '<img src=x onerror=alert(1)>',
  '"><svg/onload=alert(1)>',
  "'; drop table plans; --",
  'javascript:alert(1)',
  '{{x.constructor("alert(1)")()}}',
  '#{alert(1)} $[alert(1)]',
  '$t(common:app) $t(alert:why, {"a":1})',
  '\u202Etxet desrever\u202C',
  '%3Cscript%3E',
  '&lt;b&gt;&#x41;',
];
/** Fields in which a clinic writes freely. */
const WORDS: readonly Path[] = [
  ['clinic', 'name'],
  ['person', 'callMe'],
  ['ownDonts', 0],
  ['device', 'note'],
  ['greeting'],
  ['supplies', 0, 'name'],
  ['wounds', 0, 'bands', 'light', 'recipe', 'steps', 4, 'note'],
];
const isText = (path: Path): boolean => typeof at(demoContent(), path) === 'string';
const TEXTS = allPaths(demoContent()).filter(isText);

describe('markup in a plan', () => {
  test.each(MARKUP)('%s in a free field stays the same letters, in any other it is refused', async (markup) => {
    for (const path of TEXTS) {
      const free = WORDS.some((w) => w.join() === path.join());
      const plain = planFromText(unsigned(put(demoContent(), path, markup)));
      if (plain.ok) expect(at(plain.plan as unknown as Json, path)).toBe(markup.trim());
      if (free) expect([path, plain.ok]).toEqual([path, true]);
      if (!free && /(phone|Number|zone|day|time|opens|closes|id|language|family|step|kind|item|site|side)$/i.test(String(path.at(-1)))) {
        expect([path, plain.ok]).toEqual([path, false]);
      }
    }
    expect((await arrive(put(demoContent(), ['clinic', 'name'], markup))).ok).toBe(true);
  });

  test('a phone can hold nothing but a number', async () => {
    for (const phone of ['tel:911', '911;ext=1', '911,,1', '+1 312 555 0142\n911', '<b>911</b>', '９１１', '*31#911']) {
      for (const field of ['phone', 'outOfHoursPhone', 'emergencyNumber']) {
        expect((await arrive(put(demoContent(), ['clinic', field], phone))).ok).toBe(false);
      }
    }
  });
});

describe('a plan of any content', () => {
  const anything = fc.oneof(
    fc.jsonValue({ maxDepth: 3 }),
    fc.constantFrom<unknown>(
      ...MARKUP,
      -1,
      1e308,
      '',
      null,
      [],
      {},
      [[[[]]]],
      'x'.repeat(100_000),
      { toJSON: 1 },
      JSON.parse('{"then":1}'),
    ),
  ) as fc.Arbitrary<Json>;
  const keysOfTrouble = fc.constantFrom(
    '__proto__',
    'constructor',
    'prototype',
    'toString',
    'hasOwnProperty',
    'then',
    'futureField',
    '',
    '0',
  );

  test('with one field replaced is refused or a plan, and never throws', async () => {
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...allPaths(demoContent())), anything, async (path, value) => {
        const arrival = await arrive(put(demoContent(), path, value));
        if (arrival.ok) expect(mustRead(arrival.plan)).toEqual(arrival.plan);
        else expect(['faults', 'newerVersion']).toContain(arrival.why);
      }),
      { numRuns: 200 },
    );
  });

  test('with a field that nobody knows is refused wherever it is, and lends no object anything', async () => {
    const objects = [[], ...allPaths(demoContent())].filter((path) => {
      const value = at(demoContent(), path);
      return typeof value === 'object' && value !== null && !Array.isArray(value);
    });
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...objects), keysOfTrouble, anything, async (path, key, value) => {
        const arrival = await arrive(put(demoContent(), [...path, key], value));
        expect([path, key, arrival.ok]).toEqual([path, key, false]);
        expect(({} as Record<string, unknown>).futureField).toBeUndefined();
        expect(Object.keys(Object.prototype)).toEqual([]);
      }),
      { numRuns: 200 },
    );
  });

  test('of a later version is told as that, not as full of faults', async () => {
    for (const version of [2, 3, 1.5, 1e6, Number.MAX_SAFE_INTEGER]) {
      expect(await arrive({ ...(demoContent() as object), version, newThings: {} })).toEqual({ ok: false, why: 'newerVersion' });
    }
  });

  test.each<[string, Path]>([
    ['wounds', ['wounds']],
    ['supplies', ['supplies']],
    ['steps', ['wounds', 0, 'bands', 'light', 'recipe', 'steps']],
    ['uses', ['wounds', 0, 'bands', 'light', 'recipe', 'uses']],
    ['opening hours', ['clinic', 'hours']],
    ['don’ts', ['donts']],
    ['own don’ts', ['ownDonts']],
    ['known findings', ['wounds', 0, 'known']],
  ])('with a megabyte of %s is refused, in a few faults', async (_name, path) => {
    const [first] = at(demoContent(), path) as Json[];
    const many = Math.floor(950_000 / (JSON.stringify(first).length + 1));
    const arrival = await arrive(put(demoContent(), path, Array<Json>(many).fill(first as Json)));
    expect(arrival).toMatchObject({ ok: false, why: 'faults' });
    if (!arrival.ok && arrival.why === 'faults') expect(arrival.faults.length).toBeLessThanOrEqual(20);
  });

  test('nested three thousand deep is refused', async () => {
    let deep: Json = 1;
    for (let i = 0; i < 3_000; i++) deep = [deep];
    expect((await arrive(put(demoContent(), ['greeting'], deep))).ok).toBe(false);
    expect((await arrive(deep)).ok).toBe(false);
  });
});

describe('a text of any content', () => {
  const texts = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 300 }),
    fc.tuple(fc.base64String(), fc.base64String(), fc.base64String()).map((p) => `eyJ${p.map((s) => s.replace(/[+/=]/g, '')).join('.')}`),
    fc.bigInt({ min: 10n ** 120n, max: 10n ** 900n }).map((n) => `s${n}`),
    fc.tuple(fc.nat(99), fc.nat(99), fc.bigInt({ min: 10n ** 10n, max: 10n ** 80n })).map(([i, n, d]) => `p${i}${n}${d}`),
    fc.jsonValue().map((j) => JSON.stringify({ tendbook: 'signedPlan', plan: j })),
    fc.jsonValue().map((j) => `${Buffer.from(JSON.stringify(j)).toString('base64url')}.e30.e30`),
  );

  test('is refused, and nothing throws', async () => {
    await fc.assert(
      fc.asyncProperty(texts, async (text) => {
        expect((await arrivalFromText(text, [keys.publicKey])).ok).toBe(false);
        expect((await openSigned(text, [])).ok).toBe(false);
        expect(['notAPart', 'added']).toContain(collect(undefined, text).event);
      }),
      { numRuns: 500 },
    );
  });

  test('headers of any content are refused unless they say what ours say', async () => {
    const [, payload, tail] = (await signPlan(mustRead(demoContent()), keys)).split('.') as [string, string, string];
    const member = fc.oneof(fc.jsonValue({ maxDepth: 1 }), fc.constantFrom<unknown>('ES256', 'DEF', 1, keys.keyId, keys.publicKey));
    const header = fc.dictionary(fc.constantFrom('alg', 'zip', 'dct', 'kid', 'jwk', 'crit', '__proto__', 'b64', 'x5u', 'jku'), member);
    await fc.assert(
      fc.asyncProperty(header, async (content) => {
        const head = Buffer.from(JSON.stringify(content)).toString('base64url');
        expect((await openSigned(`${head}.${payload}.${tail}`, [keys.publicKey])).ok).toBe(false);
      }),
    );
  });

  test('a file that names something else inside is refused', async () => {
    for (const text of [signedToFile('1.abc'), signedToFile(unsigned(demoContent())), '{"tendbook":"signedPlan","plan":["eyJ..", 1]}']) {
      expect(await arrivalFromText(text, [])).toEqual({ ok: false, why: 'damaged' });
    }
  });

  test('this file’s own plan is one', () => {
    expect(readPlan(demoContent()).ok).toBe(true);
  });
});

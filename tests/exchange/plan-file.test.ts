import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Plan } from '../../app/care/plan/plan.ts';
import { seal, toBase64Url } from '../../app/exchange/bytes.ts';
import { type PlanArrival, planFromText, planToCode, planToFile, planToLink, TEXT_MOST } from '../../app/exchange/plan-file.ts';
import { allPaths, demoContent, demoPlan, type Json, mustRead, put, twoWoundPlan } from '../care/plan/plans.ts';

const plan = demoPlan();
const arrived = (own: Plan): PlanArrival => ({ ok: true, plan: own });
const refused = (why: string) => ({ ok: false, why });
/** Anything as the code of a link. */
const codeOf = (content: unknown): string => `1.${toBase64Url(seal(JSON.stringify(content)))}`;
const ADDRESS = 'https://tendbook.example/';

describe('a plan on its way', () => {
  test('arrives from a link, a bare code and a file', () => {
    for (const own of [plan, twoWoundPlan()]) {
      for (const text of [planToLink(own, ADDRESS), planToCode(own), planToFile(own)]) expect(planFromText(text)).toEqual(arrived(own));
    }
  });

  test('the link keeps everything behind the # where no server sees it', () => {
    const [before, after, ...more] = planToLink(plan, `${ADDRESS}clinic?x=1#/today`).split('#');
    expect(before).toBe(`${ADDRESS}clinic?x=1`);
    expect(after).toBe(`plan=${planToCode(plan)}`);
    expect(more).toEqual([]);
  });

  test('the code holds only letters that survive a link and a message', () => {
    expect(planToCode(plan)).toMatch(/^1\.[A-Za-z0-9_-]+$/);
  });

  test('arrives with blanks and line breaks around and within the code', () => {
    const code = planToCode(plan);
    const broken = code.replace(/(.{40})/g, '$1\r\n  ');
    expect(broken.split('\n').length).toBeGreaterThan(10);
    for (const text of [` ${code}\n`, broken, `\t${broken}\n\n`]) expect(planFromText(text)).toEqual(arrived(plan));
  });

  test('arrives from the middle of a message', () => {
    const text = `Hello Nela,\nyour new plan: ${planToLink(plan, ADDRESS)} \nCall us if it does not open.`;
    expect(planFromText(text)).toEqual(arrived(plan));
  });

  test('arrives as the part of the address behind the site', () => {
    expect(planFromText(`#plan=${planToCode(plan)}`)).toEqual(arrived(plan));
  });

  test('arrives from a file with a byte order mark, in one line, or with other fields first', () => {
    expect(planFromText(`\uFEFF${planToFile(plan)}`)).toEqual(arrived(plan));
    expect(planFromText(JSON.stringify({ plan: demoContent(), tendbook: 'plan', madeWith: 'x' }))).toEqual(arrived(plan));
  });

  test('the file is readable and ends with a line break', () => {
    expect(planToFile(plan)).toContain('\n    "clinic": {\n');
    expect(planToFile(plan).endsWith('}\n')).toBe(true);
  });

  test('any plan comes through whole: a round trip changes nothing', () => {
    const words = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 8 }).filter((s) => s.trim() !== '' && s.trim().length <= 40);
    const edits = fc.array(
      fc.oneof(
        fc.tuple(fc.constant(['person', 'callMe']), words),
        fc.tuple(fc.constant(['clinic', 'name']), words),
        fc.tuple(fc.constant(['greeting']), words),
        fc.tuple(fc.constant(['wounds', 0, 'bands', 'light', 'recipe', 'steps', 4, 'note']), words),
        fc.tuple(fc.constant(['revision']), fc.integer({ min: 1, max: 100_000 })),
        fc.tuple(fc.constant(['wounds', 0, 'baseline', 'lengthMm']), fc.integer({ min: 1, max: 600 })),
      ),
      { maxLength: 6 },
    );
    fc.assert(
      fc.property(edits, (list) => {
        const content = demoContent();
        for (const [path, value] of list) put(content, path, value as Json);
        const own = mustRead(content);
        expect(planFromText(planToLink(own, ADDRESS))).toEqual(arrived(own));
        expect(planFromText(planToFile(own))).toEqual(arrived(own));
      }),
    );
  });
});

describe('what is no plan is refused, and the reason fits', () => {
  test.each(['', '   ', '\n\t', '\uFEFF'])('%j is nothing', (text) => {
    expect(planFromText(text)).toEqual(refused('nothing'));
  });

  test.each([
    'hello',
    'https://tendbook.example/',
    'https://tendbook.example/#plan=',
    '#/confirm',
    'plan',
    '[1,2]',
    '"{}"',
    '-1.abc',
    '<html><body>1.x</body></html>',
    '{"tendbook":"log","plan":{}}',
    '{"plan":{}}',
    '{}',
    '{"tendbook":["plan"]}',
  ])('%j is not a plan', (text) => {
    expect(planFromText(text)).toEqual(refused('notAPlan'));
  });

  test.each(['null', '5', '"text"', '[]', '{"tendbook":"log"}'])('%s in a code is not a plan', (json) => {
    expect(planFromText(`1.${toBase64Url(seal(json))}`)).toEqual(refused('notAPlan'));
  });

  test.each(['9.abc', '2.', '10.eyJ9', '0.abc', '007.x', `${ADDRESS}#plan=2.abc`])(
    '%s is of an envelope this app does not know',
    (text) => {
      expect(planFromText(text)).toEqual(refused('newerVersion'));
    },
  );

  test('a plan of a newer version is told as newer, not as full of faults', () => {
    const newer = { tendbook: 'plan', plan: { version: 2, everything: 'else is new' } };
    expect(planFromText(codeOf(newer))).toEqual(refused('newerVersion'));
    expect(planFromText(JSON.stringify(newer))).toEqual(refused('newerVersion'));
  });

  test('a code cut off anywhere is damaged', () => {
    const code = planToCode(plan);
    for (let end = 2; end < code.length; end += 7) expect(planFromText(code.slice(0, end))).toEqual(refused('damaged'));
  });

  test('a file cut off anywhere is damaged', () => {
    const file = planToFile(plan).trimEnd();
    for (let end = 1; end < file.length; end += 97) expect(planFromText(file.slice(0, end))).toEqual(refused('damaged'));
  });

  test('a code with a letter that no code has is damaged', () => {
    expect(planFromText(`${planToCode(plan)}=`)).toEqual(refused('damaged'));
    expect(planFromText(`1.${encodeURIComponent('+/')}`)).toEqual(refused('damaged'));
  });

  test('a text beyond any plan’s size is refused before it is looked at', () => {
    expect(planFromText('1.'.padEnd(TEXT_MOST + 1, 'A'))).toEqual(refused('tooLong'));
    expect(planFromText('{'.padEnd(TEXT_MOST + 1, ' ').concat('}'))).toEqual(refused('tooLong'));
  });

  test('a code that unfolds to five million letters is damaged', () => {
    const bomb = codeOf({ tendbook: 'plan', plan: 'x'.repeat(5_000_000) });
    expect(bomb.length).toBeLessThan(TEXT_MOST);
    expect(planFromText(bomb)).toEqual(refused('damaged'));
  });

  test('a plan with faults names the fields', () => {
    const content = put(put(demoContent(), ['clinic', 'phone'], 'tel:+1'), ['wounds', 0, 'side'], 'both');
    expect(planFromText(codeOf({ tendbook: 'plan', plan: content }))).toEqual({
      ok: false,
      why: 'faults',
      faults: [
        { path: ['clinic', 'phone'], fault: 'notAPhone' },
        { path: ['wounds', 0, 'side'], fault: 'wrong' },
      ],
    });
  });

  test('an envelope without a plan tells what is missing', () => {
    const arrival = planFromText('{"tendbook":"plan"}');
    expect(arrival).toEqual({ ok: false, why: 'faults', faults: [{ path: [], fault: 'missing' }] });
  });
});

describe('hostile content', () => {
  const hostile: [string, string][] = [
    ['a prototype for the envelope', '{"__proto__":{"tendbook":"plan"},"plan":{}}'],
    ['a prototype in the plan', '{"tendbook":"plan","plan":{"__proto__":{"version":1}}}'],
    ['a hundred thousand brackets', `{"tendbook":"plan","plan":${'['.repeat(100_000)}${']'.repeat(100_000)}}`],
    ['a hundred thousand objects', `{"tendbook":"plan","plan":${'{"a":'.repeat(60_000)}1${'}'.repeat(60_000)}}`],
    ['a version beyond numbers', '{"tendbook":"plan","plan":{"version":1e999}}'],
    ['a key twice', '{"tendbook":"plan","tendbook":"log","plan":{}}'],
    ['a toJSON and a then', '{"tendbook":"plan","plan":{"toJSON":1,"then":1,"valueOf":1,"toString":null}}'],
  ];
  test.each(hostile)('%s is refused and pollutes nothing', (_name, text) => {
    expect(planFromText(text).ok).toBe(false);
    expect(Object.keys(Object.prototype)).toEqual([]);
  });

  test('a list of 90,000 wounds is refused as one fault', () => {
    const text = JSON.stringify({ tendbook: 'plan', plan: put(demoContent(), ['wounds'], Array<Json>(90_000).fill(0)) });
    expect(planFromText(text)).toEqual({ ok: false, why: 'faults', faults: [{ path: ['wounds'], fault: 'tooMany' }] });
  });

  test('no text makes it throw', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.string().map((s) => `1.${s}`),
          fc.json().map((j) => `{"tendbook":"plan","plan":${j}}`),
        ),
        (text) => {
          expect(typeof planFromText(text).ok).toBe('boolean');
        },
      ),
      { numRuns: 500 },
    );
  });

  // Without a check number 3 in 100 such changes gave another readable plan, some with another phone number.
  test('a code with one letter changed, or two swapped, never gives another plan, wherever it is', () => {
    const code = planToCode(plan);
    let same = 0;
    // The packing leaves a few bits that say nothing: changed, they leave the very same plan. Anything else is damage.
    const check = (changed: string): void => {
      const arrival = planFromText(changed);
      if (arrival.ok) same += 1;
      expect(arrival).toEqual(arrival.ok ? { ok: true, plan } : refused('damaged'));
    };
    const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
    // Of the last letter some bits may be spare, so a change of it can mean the same bytes.
    for (let where = 2; where < code.length - 1; where++) {
      const sign = letters[(letters.indexOf(code[where] as string) + 1 + (where % 63)) % 64] as string;
      check(code.slice(0, where) + sign + code.slice(where + 1));
      const [one, two] = [code[where] as string, code[where + 1] as string];
      if (one === two || where + 2 >= code.length) continue;
      check(code.slice(0, where) + two + one + code.slice(where + 2));
    }
    expect(same).toBeLessThan(3);
  });

  test('a file with one field replaced never throws', () => {
    fc.assert(
      fc.property(fc.constantFrom(...allPaths(demoContent())), fc.jsonValue({ maxDepth: 2 }), (path, value) => {
        const arrival = planFromText(JSON.stringify({ tendbook: 'plan', plan: put(demoContent(), path, value as Json) }));
        if (!arrival.ok) expect(['faults', 'newerVersion']).toContain(arrival.why);
      }),
    );
  });
});

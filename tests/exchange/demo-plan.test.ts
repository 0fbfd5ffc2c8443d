import { describe, expect, test } from 'vitest';
import type { LocalDay } from '../../app/care/schedule/day.ts';
import { demoPlan } from '../../app/exchange/demo-plan.ts';
import { arrivalFromText } from '../../app/exchange/plan-file.ts';

const TODAY = '2031-03-04' as LocalDay;

/** Languages with a demo of their own, by the names of the files. */
const languages = Object.keys(import.meta.glob('../../assets/demo/plan.*.json')).map((path) => path.split('.').at(-2) as string);

describe('the demo plan', () => {
  test('there are demos to look at', () => {
    expect(languages).toEqual(expect.arrayContaining(['es', 'fr', 'ar', 'vi']));
  });

  test.each(languages)('opens in %s as a plan of that language, with the same care in other words', async (language) => {
    const arrival = await arrivalFromText(await demoPlan(TODAY, language), []);
    const english = await arrivalFromText(await demoPlan(TODAY, 'en'), []);
    if (!arrival.ok || !english.ok) throw new Error('the demo plan does not open');
    expect(arrival.plan.person.language).toBe(language);
    expect(shapeOf(arrival.plan)).toEqual(shapeOf(english.plan));
  });

  test('is English for a language without one', async () => {
    expect(JSON.parse(await demoPlan(TODAY, 'tlh')).plan.person.language).toBe('en');
  });
});

/** A plan without its free words. */
const shapeOf = (plan: object): unknown =>
  JSON.parse(
    JSON.stringify(plan, (key, value) =>
      ['note', 'name', 'callMe', 'ownDonts', 'greeting', 'language'].includes(key) ? typeof value : value,
    ),
  );

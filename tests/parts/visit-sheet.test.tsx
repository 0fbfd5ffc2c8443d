// @vitest-environment happy-dom
import { cleanup, render, screen, within } from '@testing-library/preact';
import fc from 'fast-check';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { timeline } from '../../app/care/log/timeline.ts';
import type { LocalDay } from '../../app/care/schedule/day.ts';
import { visitSummary } from '../../app/care/visit/summary.ts';
import { VisitSheet, type VisitSheetProps } from '../../app/parts/visit/sheet.tsx';
import { VISIT_AREAS } from '../../app/parts/visit/speak.tsx';
import { inLanguage, loadAreas, t, words } from '../../app/words/i18n.ts';
import { check } from '../care/log/make.ts';
import { demoPlan, mustRead, twoWoundPlan } from '../care/plan/plans.ts';
import { exampleInput } from '../care/visit/example.ts';
import { historyArb, NOW } from '../care/visit/histories.ts';

const UNITS = { temperature: 'Cel', glucose: 'mg/dL', length: 'cm' } as const;
const example = () => visitSummary(exampleInput());

beforeAll(async () => {
  await words.changeLanguage('en');
  for (const language of ['en', 'es', 'qpr']) await loadAreas(VISIT_AREAS, language);
});
afterEach(cleanup);

function show(more: Partial<VisitSheetProps> = {}): HTMLElement {
  cleanup();
  return render(<VisitSheet summary={example()} units={UNITS} {...more} />).container as HTMLElement;
}

/** The text of a part of the page, spaces of every width as one. */
const textOf = (page: HTMLElement, name: string, language?: string): string => {
  const part = page.querySelector(`.visit-${name}`);
  const own = language === undefined ? part : part?.querySelector(`[lang="${language}"]`);
  return (own?.textContent ?? '').replace(/[\s\u2009\u202f\u00a0]+/g, ' ');
};
const value = (page: HTMLElement, label: string): string | null | undefined =>
  within(page).getByText(label, { selector: 'dt' }).parentElement?.querySelector('dd')?.textContent;

describe('the figures of the example, in words', () => {
  test('questions come first, then what called for a call', () => {
    const page = show();
    const names = [...page.querySelectorAll('section')].map((s) => s.className.split(' ')[1]);
    expect(names.slice(0, 3)).toEqual(['visit-head', 'visit-questions', 'visit-alerts']);
    expect(textOf(page, 'questions')).toContain('May I shower?');
    expect(textOf(page, 'head')).toContain('Mar 3, 2031 to Mar 18, 2031 (16 days), since the last visit');
    expect(textOf(page, 'head')).toContain('version 1 from Mar 2, 2031 on; version 2 from Mar 10, 2031 on');
  });

  test('each alert tells when, what, why, and what was done after how long', () => {
    const page = show();
    const alerts = within(page.querySelector('.visit-alerts') as HTMLElement).getAllByRole('listitem');
    expect(alerts).toHaveLength(4);
    expect(alerts[1]?.textContent).toContain(t('alert:short.callToday'));
    expect(alerts[1]?.textContent?.replace(/\u202f/g, ' ')).toContain('Mar 5, 9:05 AM');
    expect(alerts[1]?.textContent).toContain('Reached the clinic (after 90 minutes)');
    expect(alerts[1]?.textContent).toContain('Come on Friday.');
    expect(alerts[0]?.textContent).toContain(t('visit:alerts.openBefore'));
    expect(alerts[3]?.textContent).toContain(t('visit:alerts.open'));
  });

  test('changes, drainage and size', () => {
    const page = show();
    expect([t('visit:changes.done'), t('visit:changes.onTime'), t('visit:changes.early')].map((l) => value(page, l))).toEqual([
      '6',
      '3',
      '1: Mar 5 (fluid showed through)',
    ]);
    expect(value(page, t('visit:changes.coveredOnly'))).toBe('1: Mar 9');
    expect(value(page, t('visit:changes.late'))).toBe('2: Mar 7 (1 day), Mar 15 (2 days)');
    expect(value(page, t('visit:changes.missed'))).toBe('2: Mar 6, Mar 13');
    expect(value(page, t('visit:changes.overdue'))).toBe('Mar 17');
    expect(value(page, t('visit:drainage.looks'))).toBe('7');
    expect(value(page, t('visit:drainage.found'))).toBe(
      'dry: Mar 4, Mar 15a little fluid: Mar 7, Mar 12some fluid: Mar 5, Mar 11a lot of fluid: Mar 9',
    );
    expect(value(page, t('visit:drainage.expected'))).toBe('a little fluid to some fluidfrom Mar 11 on: dry to a little fluid');
    expect(value(page, t('visit:drainage.above'))).toBe('2: Mar 9, Mar 11');
    expect(value(page, t('visit:drainage.below'))).toBe('1: Mar 4');
    for (const name of ['drainage', 'size']) expect(page.querySelector(`.visit-${name} svg[role=img]`), name).not.toBeNull();
    expect(value(page, t('visit:size.first'))).toBe('2.2 cm × 1.6 cm, 2.8 cm², Mar 2, 2031, at the clinic');
    expect(value(page, t('visit:size.course'))).toBe('39% smaller');
    expect(textOf(page, 'size')).toContain(t('visit:size.mixed'));
  });

  test('a dressing that did not fit at the last changes is said to be so, and no other is named', () => {
    const summary = visitSummary({ ...exampleInput(), from: '2031-03-03' as LocalDay, to: '2031-03-09' as LocalDay });
    expect(textOf(show({ summary }), 'drainage')).toContain(t('visit:drainage.fit.tooWet', { count: 3 }));
    expect(textOf(show(), 'drainage')).not.toContain('for the dressing');
  });

  test('checks, temperature, pain, off-loading and sugar', () => {
    const page = show();
    expect(value(page, t('visit:checks.done'))).toBe("on 11 of 15 days; today's is still to come");
    expect(textOf(page, 'body')).toContain('38.4 °C in the mouth, Mar 8');
    expect(textOf(page, 'body')).toContain('measured on 11 of 15 days');
    expect(value(page, 'Fever, from 38 °C (37.5 °C in the armpit)')).toBe('Mar 8, Mar 14');
    expect(value(page, t('check:pain.short'))).toBe('as always on 9 daysmore pain: Mar 5very bad pain: Mar 9no answer on 4 days');
    expect(textOf(page, 'body')).toContain('most 2.9 °C warmer at this place: heel, Mar 7 (measured on 2 days)');
    expect(textOf(page, 'body')).toContain('highest 17.2 mmol/L, Mar 7');
  });

  test('to mention, also seen, supplies, and what is missing', () => {
    const page = show();
    expect(textOf(page, 'mention')).toContain('Mar 7, Mar 15: The skin at the edge is white and soggy.');
    expect(textOf(page, 'seen')).toContain('Smell: as always (Mar 4, Mar 7). The clinic knows this.');
    const rows = within(page.querySelector('.visit-supplies') as HTMLElement).getAllByRole('row');
    expect(rows[2]?.textContent).toMatch(/^Foam with border 10 × 10 cm513/);
    expect(textOf(page, 'supplies')).toContain('Not counted, and none used: Collagen sheet 5 × 5 cm');
    expect(textOf(page, 'gaps')).toContain('On 3 days no check was done.');
    expect(textOf(page, 'gaps')).toContain('1 entry has a date that is still to come.');
  });
});

test('what was written at home stands once, in its own words, with its day', () => {
  const summary = visitSummary({
    plan: demoPlan(),
    earlierPlans: [],
    entries: timeline([check('c', '2031-03-04T15:00', { person: { unwell: ['none'], note: 'Slept with the <b>shoe</b> off.' } })]),
    now: NOW,
    zone: 'UTC',
  });
  const page = show({ summary, second: 'es' });
  expect(textOf(page, 'written')).toContain('Mar 4 Slept with the <b>shoe</b> off.');
  expect(textOf(page, 'written').match(/shoe/g)).toHaveLength(1);
});

describe('what is not there', () => {
  test('an empty log says so line by line, and shows no number for what nobody measured', () => {
    const summary = visitSummary({ plan: demoPlan(), earlierPlans: [], entries: [], now: NOW, zone: 'UTC' });
    const page = show({ summary });
    expect(textOf(page, 'questions')).toContain(t('visit:questions.none'));
    expect(textOf(page, 'alerts')).toContain(t('visit:alerts.none'));
    expect(textOf(page, 'drainage')).toContain(t('visit:drainage.none'));
    expect(value(page, t('visit:temperature.highest'))).toBe(t('visit:missing'));
    // No reading is no proof of no fever.
    expect(value(page, 'Fever, from 38 °C (37.5 °C in the armpit)')).toBe(t('visit:notKnown'));
    expect(value(page, t('visit:size.last'))).toBe(t('visit:size.noneSince'));
    expect(value(page, t('visit:size.course'))).toBe(t('visit:missing'));
    expect(page.querySelector('.visit-supplies table')).toBeNull();
    expect(textOf(page, 'gaps')).toContain(t('visit:gaps.noSize'));
  });

  test('a photo that is not at hand is told, not shown as a hole', () => {
    const page = show({ photos: new Map([['bytes-photo-1', 'blob:first']]) });
    const part = within(page.querySelector('.visit-photos') as HTMLElement);
    expect(part.getByRole('img', { name: 'The wound on Mar 4, 2031' }).getAttribute('src')).toBe('blob:first');
    expect(part.getByText(t('visit:photos.notHere'))).toBeTruthy();
    // Without photos the part is not there at all.
    expect(show().querySelector('.visit-photos')).toBeNull();
  });
});

describe('in two languages', () => {
  test('every part stands in both, with the same figures, and the person’s words once', () => {
    const page = show({ second: 'es' });
    expect(screen.getByRole('heading', { name: 'Los días de Nela en casa' }).closest('[lang]')?.getAttribute('lang')).toBe('es');
    for (const part of page.querySelectorAll('section')) expect(part.querySelectorAll(':scope > [lang]').length, part.className).toBe(2);
    expect(textOf(page, 'changes', 'es')).toContain('2: 7 mar (1 día), 15 mar (2 días)');
    expect(textOf(page, 'body', 'es')).toContain('38,4 °C en la boca, 8 mar');
    // The chart speaks the language of its column, to the last word.
    const chart = page.querySelector('.visit-drainage [lang="es"] figure');
    expect(chart?.querySelector('desc')?.textContent).toContain('Del 3 mar 2031');
    expect(chart?.textContent).not.toContain(t('chart:numbers'));
    expect(textOf(page, 'changes', 'en')).toContain('2: Mar 7 (1 day), Mar 15 (2 days)');
    expect(screen.getAllByText('May I shower?')).toHaveLength(1);
    // Nothing of one language is left in the other.
    const spanish = [...page.querySelectorAll('[lang="es"] dt')].map((dt) => dt.textContent);
    const english = [...page.querySelectorAll('[lang="en"] dt')].map((dt) => dt.textContent);
    expect(spanish.length).toBe(english.length);
    expect(spanish.filter((label) => english.includes(label))).toEqual([]);
  });

  test('one that runs from right to left has its own direction', () => {
    const page = show({ second: 'qpr' });
    expect(page.querySelector('.visit-alerts [lang="qpr"]')?.getAttribute('dir')).toBe('rtl');
    expect(textOf(page, 'alerts', 'qpr')).toContain(inLanguage('qpr', () => t('visit:alerts.title')));
  });
});

test('whatever the log, every part can be said, and no hole shows in a sentence', () => {
  const plan = mustRead({ ...twoWoundPlan(), asks: ['offloading', 'glucose', 'warmth'], warmthSites: ['heel'] });
  fc.assert(
    fc.property(historyArb, (records) => {
      const summary = visitSummary({
        plan,
        earlierPlans: [],
        entries: timeline(records),
        from: '2031-02-25' as LocalDay,
        now: NOW,
        zone: 'UTC',
      });
      const text = show({ summary, second: 'es' }).textContent ?? '';
      expect(text).not.toMatch(/undefined|NaN|\{\{|visit:|check:|rules:/);
    }),
    { numRuns: 12 },
  );
});

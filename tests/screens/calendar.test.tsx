// @vitest-environment happy-dom
import { cleanup, screen, within } from '@testing-library/preact';
import { afterEach, expect, test } from 'vitest';
import type { LocalDay } from '../../app/care/schedule/day.ts';
import { CalendarScreen } from '../../app/screens/calendar/calendar.tsx';
import { formatDay } from '../../app/words/format.ts';
import { t } from '../../app/words/i18n.ts';
import { change } from '../care/log/make.ts';
import { demoPlan, mustRead, twoWoundPlan } from '../care/plan/plans.ts';
import { stage } from './stage.tsx';

afterEach(cleanup);

const dateOf = (day: string): string => formatDay(day as LocalDay);

/** What a screen reader says of each day of the month. */
const daysSaid = (): string[] =>
  [...screen.getByRole('table').querySelectorAll('td .unseen')].map((said) => said.textContent ?? '').filter((said) => said !== '');

test('every kind of mark has a sign of its own and a place in the legend', async () => {
  const { show } = await stage();
  show(<CalendarScreen />);
  const legend = document.querySelector('.legend') as HTMLElement;
  const signs = [...legend.querySelectorAll('svg')].map((svg) => svg.innerHTML);
  expect(signs).toHaveLength(7);
  expect(new Set(signs).size).toBe(signs.length);
  expect(within(legend).getByText(t('calendar:kind.review'))).toBeTruthy();
});

test('marks of one kind on one day are said once, with how many', async () => {
  const { show } = await stage({ plan: twoWoundPlan() });
  show(<CalendarScreen />);
  const two = t('common:amount', { amount: 2, name: t('calendar:kind.due') });
  expect(daysSaid()).toContain(`${dateOf('2031-03-04')}: ${two}`);
});

test('different marks of one day are all said, a single one without a number', async () => {
  const { show } = await stage({ plan: mustRead({ ...demoPlan(), reviewBy: '2031-03-04' }) });
  show(<CalendarScreen />);
  expect(daysSaid()).toContain(`${dateOf('2031-03-04')}: ${t('calendar:kind.due')}, ${t('calendar:kind.review')}`);
});

test('a day without marks is its date and nothing more', async () => {
  const { show } = await stage();
  show(<CalendarScreen />);
  expect(daysSaid()).toContain(dateOf('2031-03-05'));
  for (const said of daysSaid()) expect(said).not.toMatch(/:\s*$/);
});

test('the grid begins with the week in which the book does, and names its months', async () => {
  const { show } = await stage();
  show(<CalendarScreen />);
  // 4 March 2031 is a Tuesday.
  expect(daysSaid()[0]).toBe(dateOf('2031-03-03'));
  expect(screen.getAllByRole('rowheader').map((head) => head.textContent)).toEqual(['March 2031']);
});

test('a change long ago is seen in its own month', async () => {
  const { show } = await stage({ records: [change('d', '2031-02-13T10:00')] });
  show(<CalendarScreen />);
  expect(daysSaid()[0]).toBe(dateOf('2031-02-10'));
  expect(screen.getAllByRole('rowheader').map((head) => head.textContent)).toEqual(['February 2031', 'March 2031']);
  expect(daysSaid()).toHaveLength(19 + 31);
});

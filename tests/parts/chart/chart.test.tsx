// @vitest-environment happy-dom
import { cleanup, render, screen, within } from '@testing-library/preact';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { addDays } from '../../../app/care/schedule/day.ts';
import { Chart, type ChartProps } from '../../../app/parts/chart/chart.tsx';
import { formatDay } from '../../../app/words/format.ts';
import { AREAS, loadAreas, t, words } from '../../../app/words/i18n.ts';
import { chartOf, FROM, point } from './make.ts';

beforeAll(async () => {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
});
afterEach(() => {
  cleanup();
  document.documentElement.dir = '';
});

const show = (props: Partial<ChartProps> & { points?: ReturnType<typeof point>[]; days?: number }) => {
  const { points = [], days = 14, ...more } = props;
  return render(<Chart {...chartOf(points, days)} title="Weight" valueHeading="Grams" {...more} />);
};
const on = (index: number) => formatDay(addDays(FROM, index), 'short');
const picture = () => screen.getByRole('img', { name: 'Weight' });
const words_ = () => document.getElementById(picture().getAttribute('aria-describedby') ?? '')?.textContent ?? '';
const cells = () =>
  within(screen.getByRole('table'))
    .getAllByRole('row')
    .map((row) => [...row.children].map((c) => c.textContent));
const lines = () => document.querySelectorAll('svg.chart-picture .chart-line');
const marks = () => document.querySelectorAll('svg.chart-picture .chart-mark');

describe('a chart', () => {
  test('tells its course in words: the time, the first and last, the lowest and highest', () => {
    show({ points: [point(0, 4), point(2, 1), point(3, 9), point(5, 5)] });
    expect(words_()).toBe(
      [
        t('chart:period', { from: on(0), to: on(13) }),
        t('chart:values', { count: 4 }),
        t('chart:firstLast', { first: '4 g', firstDay: on(0), last: '5 g', lastDay: on(5) }),
        t('chart:lowHigh', { low: '1 g', lowDay: on(2), high: '9 g', highDay: on(3) }),
      ].join(' '),
    );
  });

  test('has every number behind it in a table with a caption and headed rows and columns, newest first', () => {
    show({ points: [point(0, 4), point(2, 1, { note: 'in the morning' })], noteHeading: 'When' });
    const table = screen.getByRole('table', { name: t('chart:caption', { title: 'Weight' }) });
    expect(table.closest('details')?.querySelector('summary')?.textContent).toMatch(new RegExp(`^${t('chart:numbers')}, .`));
    expect(cells()).toEqual([
      [t('chart:day'), 'Grams', 'When'],
      [on(2), '1 g', 'in the morning'],
      [on(0), '4 g', ''],
    ]);
    expect([...table.querySelectorAll('thead th')].map((h) => h.getAttribute('scope'))).toEqual(['col', 'col', 'col']);
    expect([...table.querySelectorAll('tbody th')].map((h) => h.getAttribute('scope'))).toEqual(['row', 'row']);
  });

  test('values of one day are told apart by their time', () => {
    const twice = [point(3, 4, { at: Date.parse('2031-01-04T09:00:00Z') }), point(3, 5, { at: Date.parse('2031-01-04T21:30:00Z') })];
    show({ points: [point(0, 1), ...twice] });
    expect(cells().map(([when]) => when?.replaceAll('\u202f', ' '))).toEqual([
      t('chart:day'),
      `${on(3)}, 9:30 PM`,
      `${on(3)}, 9:00 AM`,
      on(0),
    ]);
  });

  test('with nothing to show says so, and which days that holds for', () => {
    show({ points: [point(50, 4)] });
    expect(screen.queryByRole('img')).toBeNull();
    expect(screen.queryByRole('table')).toBeNull();
    expect(screen.getByText(t('chart:nothing', { from: on(0), to: on(13) }))).toBeTruthy();
  });

  test('with one point shows the point and joins it to nothing', () => {
    show({ points: [point(5, 2)] });
    expect(words_()).toContain(t('chart:one', { first: '2 g', firstDay: on(5) }));
    expect([lines().length, marks().length]).toEqual([0, 1]);
  });

  test('with only a missing answer says that there was no value', () => {
    show({ points: [point(5, undefined)] });
    expect(words_()).toContain(t('chart:missing', { count: 1 }));
    expect(cells()[1]).toEqual([on(5), 'not known']);
    expect(screen.getByText(t('chart:questionMark'))).toBeTruthy();
    expect(document.querySelector('.chart-missing')?.textContent).toBe('?');
  });

  test('with three points draws one line through three marks', () => {
    show({ points: [point(0, 1), point(1, 2), point(2, 3)] });
    expect([lines().length, marks().length]).toEqual([1, 3]);
    expect(screen.queryByText(t('chart:broken', { count: 3 }))).toBeNull();
  });

  test('steps of an axis are told apart, however small they are', () => {
    show({ points: [point(0, 0.004), point(1, 0.012)] });
    const axis = [...document.querySelectorAll('.chart-text[text-anchor=end]')].map((e) => e.textContent);
    expect(axis.length).toBeGreaterThan(2);
    expect(new Set(axis).size).toBe(axis.length);
  });

  test('a pause stays open, and the reader is told how long one is', () => {
    show({ points: [point(0, 1), point(1, 2), point(6, 3), point(7, 3)] });
    expect(lines()).toHaveLength(2);
    expect(screen.getByText(t('chart:broken', { count: 3 }))).toBeTruthy();
  });

  test('four hundred points become bars that say what they stand for; the table keeps every number', () => {
    show({ points: Array.from({ length: 400 }, (_, i) => point(i, i % 9)), days: 400 });
    expect([lines().length, marks().length]).toEqual([0, 0]);
    expect(document.querySelectorAll('svg.chart-picture .chart-bar').length).toBeLessThan(70);
    expect(screen.getByText(/^Each bar is \d+ days/)).toBeTruthy();
    expect(cells()).toHaveLength(401);
  });

  test('what was measured in another way has another mark and no line to the rest, and is told apart in words and table', () => {
    show({
      seriesHeading: 'How',
      gapDays: 30,
      series: [
        { key: 'r', look: 'disc', name: 'ruler', points: [point(0, 4), point(8, 2)] },
        { key: 't', look: 'diamond', name: 'traced', points: [point(4, 5)] },
      ],
    });
    expect(lines()).toHaveLength(1);
    expect([...marks()].map((m) => m.tagName.toLowerCase()).sort()).toEqual(['circle', 'circle', 'path']);
    expect(words_()).toContain(t('chart:of', { name: 'traced', course: t('chart:one', { first: '5 g', firstDay: on(4) }) }));
    // No lowest or highest across ways of measuring: 5 is the highest of all, but not of those with a ruler.
    expect(words_()).toContain(t('chart:lowHigh', { low: '2 g', lowDay: on(8), high: '4 g', highDay: on(0) }));
    expect(cells().map((row) => row[2])).toEqual(['How', 'ruler', 'traced', 'ruler']);
  });

  test('names stand in the picture where there is room, else under it with their sign; the words tell of band and limit', () => {
    const points = [point(0, 1), point(13, 2)];
    show({
      points,
      limits: [{ value: 4, name: 'limit 4 g' }],
      bands: [{ from: FROM, to: addDays(FROM, 13), low: 0, high: 3, said: 'up to 3 g' }],
      bandName: 'expected',
    });
    expect([...document.querySelectorAll('.chart-name')].map((n) => n.textContent)).toEqual(['limit 4 g', 'expected']);
    expect(document.querySelector('.chart-key')).toBeNull();
    expect(words_()).toContain(t('chart:beside', { names: 'expected: up to 3 g; limit 4 g' }));
    cleanup();
    const long = 'a limit with a name that is far too long for any picture on a telephone';
    show({ points, limits: [{ value: 4, name: long }] });
    expect(document.querySelector('.chart-name')).toBeNull();
    expect(document.querySelector('.chart-key')?.textContent).toBe(long);
  });

  test('from right to left the picture is mirrored: time runs in reading direction', () => {
    const xOf = () => Number(marks()[0]?.getAttribute('cx'));
    const { unmount } = show({ points: [point(0, 1), point(13, 2)] });
    const ltr = xOf();
    unmount();
    document.documentElement.dir = 'rtl';
    document.documentElement.style.direction = 'rtl';
    show({ points: [point(0, 1), point(13, 2)] });
    expect(xOf()).toBeCloseTo(320 - ltr);
    document.documentElement.style.direction = '';
  });
});

// @vitest-environment happy-dom

import { cleanup, screen, waitFor, within } from '@testing-library/preact';
import { afterEach, describe, expect, test } from 'vitest';
import type { LogRecord } from '../../app/care/log/records.ts';
import { addDays, type LocalDay } from '../../app/care/schedule/day.ts';
import { CourseScreen } from '../../app/screens/course/course.tsx';
import { acceptPlan } from '../../app/store/accept-plan.ts';
import { appendRecords } from '../../app/store/log.ts';
import { formatDay } from '../../app/words/format.ts';
import { t } from '../../app/words/i18n.ts';
import { woundName } from '../../app/words/names.ts';
import { change, check, measurement } from '../care/log/make.ts';
import { demoPlan, mustRead, twoWoundPlan, woundOf } from '../care/plan/plans.ts';
import { stage } from './stage.tsx';

afterEach(cleanup);

const plan = mustRead({ ...demoPlan(), asks: ['glucose', 'warmth'], warmthSites: ['heel'] });
const short = (day: string) => formatDay(day as LocalDay, 'short');
const part = (key: string) => screen.getByRole('heading', { name: t(key) }).closest('section') as HTMLElement;
const said = (key: string) => [...part(key).querySelectorAll(':scope > p')].map((p) => p.textContent);
const choose = (key: string) => screen.getByRole('radio', { name: t(key) });

/** The stage's day is 4 March 2031. */
async function course(records: LogRecord[] = [], { older = [], of = plan }: { older?: LogRecord[]; of?: typeof plan } = {}) {
  const all = await stage({ plan: of, records });
  await all.notebook.saveSettings({ lengthUnit: 'cm', temperatureUnit: 'Cel', glucoseUnit: 'mg/dL' });
  // Written below the notebook, so that their months are there and not loaded.
  if (older.length > 0) {
    await appendRecords(all.notebook.shelf, of.person.id, older);
    await all.notebook.reload();
  }
  all.show(<CourseScreen />);
  await waitFor(() => expect(screen.queryByText(t('common:wait'))).toBeNull());
  return all;
}

const warm = (woundSide: number) => ({ warmth: { pairs: [{ site: 'heel', woundSide, otherSide: 30 }] } });
const readings = (id: string, at: string, woundSide: number, temp: number, glucose: number) =>
  check(id, at, {
    person: { temperature: { value: temp, unit: 'Cel', site: 'ear' }, glucose: { value: glucose, unit: 'mg/dL' } },
    feet: { left: { ...warm(woundSide), pain: id === 'c2' ? 'more' : 'usual' } },
  });

describe('how it has gone', () => {
  test('with nothing written, says what will show here, and shows the size that stands in the plan', async () => {
    await course();
    expect(screen.getByText(t('course:empty'))).toBeTruthy();
    expect(said('chart:size.title')).toContain(t('course:size.last.clinic', { day: short('2031-03-02'), area: '2.8 cm²' }));
    expect(screen.queryByRole('heading', { name: t('chart:drainage.title') })).toBeNull();
  });

  test('each thing that is followed has its facts in sentences over its picture', async () => {
    await course([
      readings('c1', '2031-03-01T09:00', 31, 36.4, 140),
      readings('c2', '2031-03-02T09:00', 32.5, 37.2, 210),
      readings('c3', '2031-03-03T09:00', 31.2, 36.6, 90),
      change('d1', '2031-03-01T10:00', { answers: { drainageAmount: 'light' } }),
      change('d2', '2031-03-03T10:00', { answers: { drainageAmount: 'heavy' } }),
      change('d3', '2031-03-04T10:00', { answers: { drainageAmount: 'unsure' } }),
      change('d4', '2031-03-04T11:00', { answers: { drainageAmount: 'light' }, stopped: true }),
      measurement('m1', '2031-02-24T09:00', 22, 16),
      measurement('m2', '2031-03-03T09:00', 20, 15),
    ]);
    expect(said('chart:size.title').slice(0, 3)).toEqual([
      t('course:size.last.ruler', { day: short('2031-03-03'), area: '2.4 cm²' }),
      t('course:size.first', { day: short('2031-02-24'), area: '2.8 cm²' }),
      t('course:size.mixed'),
    ]);
    expect(said('chart:drainage.title')).toEqual([
      `${t('course:drainage.changes', { count: 3 })} ${t('course:drainage.amounts', { amounts: 'a little 2 times and a lot once' })}`,
      t('course:drainage.stopped', { count: 1 }),
      t('course:drainage.unknown', { count: 1 }),
      t('course:drainage.expected', { range: 'a little to some' }),
    ]);
    expect(said('chart:warmth.title').slice(0, 2)).toEqual([
      t('course:warmth.last', { day: short('2031-03-03'), difference: '1.2 °C', place: 'heel' }),
      t('course:warmth.most', { day: short('2031-03-02'), difference: '2.5 °C', place: 'heel' }),
    ]);
    expect(said('chart:temperature.title')).toEqual([
      t('course:temperature.last', { day: short('2031-03-03'), reading: '36.6 °C', where: 'in the ear' }),
      t('course:temperature.most', { day: short('2031-03-02'), reading: '37.2 °C', where: 'in the ear' }),
      t('course:temperature.normal'),
    ]);
    expect(said('chart:pain.title')).toEqual([t('course:pain.answers', { count: 3, answers: 'as always 2 times and more once' })]);
    expect(said('chart:glucose.title')).toEqual([
      t('course:glucose.last', { day: short('2031-03-03'), reading: '90 mg/dL' }),
      t('course:glucose.lowHigh', { low: '90 mg/dL', lowDay: short('2031-03-03'), high: '210 mg/dL', highDay: short('2031-03-02') }),
    ]);
    expect(screen.getAllByRole('img')).toHaveLength(6);
    expect(screen.getAllByRole('table', { hidden: true })).toHaveLength(6);
  });

  test('a time without entries is told as missing, with the day of the last one', async () => {
    const { user } = await course([readings('c1', '2031-02-05T09:00', 31, 36.4, 140), measurement('m1', '2031-02-05T09:00', 22, 16)]);
    await user.click(choose('course:last.twoWeeks'));
    expect(said('chart:temperature.title').slice(0, 2)).toEqual([
      t('course:none.twoWeeks'),
      t('course:before', { day: short('2031-02-05') }),
    ]);
    expect(part('chart:temperature.title').querySelector('svg')).toBeNull();
    expect(said('chart:drainage.title')).toEqual([t('course:none.twoWeeks')]);
    // Nothing on the page says that all is well.
    expect(said('chart:temperature.title')).toContain(t('course:temperature.normal'));
  });

  test('with one size or none, says how to take the next', async () => {
    await course([check('c1')], { of: mustRead({ ...plan, wounds: [{ ...woundOf(plan), baseline: undefined }] }) });
    expect(said('chart:size.title')).toEqual([t('course:none.threeMonths'), t('course:size.few')]);
    const link = within(part('chart:size.title')).getByRole('link', { name: t('course:size.measure') });
    expect(link.getAttribute('href')).toBe('#/measure');
  });

  test('older months are read when a longer time is chosen', async () => {
    const old = ['2030-06-10', '2030-09-10', '2030-12-20', '2031-01-05'].map((day, i) => check(`o${i}`, `${day}T09:00`));
    const { user, notebook } = await course([check('c1', '2031-03-03T09:00')], { older: old });
    expect(notebook.state.otherMonths).not.toEqual([]);
    const count = () => said('chart:pain.title')[0];
    // Three months of 91 days go back to 4 December.
    expect(count()).toContain(t('course:pain.answers', { count: 3, answers: 'as always 3 times' }));
    await user.click(choose('course:last.all'));
    await waitFor(() => expect(count()).toContain('5'));
    expect(
      screen.getByText(t('course:what', { wound: woundName(woundOf(plan)), from: short('2030-06-10'), to: short('2031-03-04') })),
    ).toBeTruthy();
    await user.click(choose('course:last.twoWeeks'));
    expect(count()).toBe(t('course:pain.answers', { count: 1, answers: 'as always once' }));
  });

  test('months that cannot be read are told, and what is loaded stays', async () => {
    const all = await stage({ plan, records: [check('c1', '2031-03-03T09:00')] });
    await appendRecords(all.notebook.shelf, plan.person.id, [check('o', '2030-06-10T09:00'), check('p', '2030-07-10T09:00')]);
    await all.notebook.reload();
    all.notebook.wholeLog = () => Promise.reject(new Error('the store is busy'));
    all.show(<CourseScreen />);
    await waitFor(() => expect(screen.getByRole('status').textContent).toBe(t('course:notRead')));
    expect(said('chart:pain.title')[0]).toContain('1');
  });

  test('one wound at a time; the other’s entries are not its own', async () => {
    const two = twoWoundPlan();
    const { user } = await course(
      [
        change('d1', '2031-03-01T10:00'),
        change('d2', '2031-03-02T10:00', { wound: 'w2', answers: { drainageAmount: 'none' } }),
        check('c1', '2031-03-02T09:00', { feet: { left: { pain: 'usual' }, right: { pain: 'severe' } } }),
      ],
      { of: two },
    );
    expect(said('chart:pain.title')[0]).toContain('as always');
    expect(
      within(part('chart:drainage.title'))
        .getByRole('link', { name: t('course:drainage.weigh') })
        .getAttribute('href'),
    ).toBe('#/weigh/w1');
    await user.click(screen.getByRole('radio', { name: woundName(woundOf(two, 'w2')) }));
    expect(said('chart:pain.title')[0]).toContain('very bad');
    expect(said('chart:drainage.title')[0]).toContain('none once');
    // A wound that must stay dry is not weighed.
    expect(screen.queryByRole('link', { name: t('course:drainage.weigh') })).toBeNull();
  });

  test('a wound that a newer plan no longer names can be looked back on, and nothing more is asked for there', async () => {
    const plans = twoWoundPlan();
    const earlier = mustRead({ ...plans, wounds: [woundOf(plans), { ...woundOf(plans), id: 'w3', site: 'arch' }] });
    const all = await stage({ plan: earlier, records: [change('d2', '2031-03-02T10:00', { wound: 'w3' })] });
    await acceptPlan(all.notebook, mustRead({ ...demoPlan(), revision: 2 }));
    all.show(<CourseScreen />);
    expect(screen.getAllByRole('link').map((a) => a.getAttribute('href'))).toEqual(['#/help', '#/measure', '#/photos']);
    await all.user.click(screen.getByRole('radio', { name: woundName(woundOf(earlier, 'w3')) }));
    expect(said('chart:drainage.title')).toEqual([
      `${t('course:drainage.changes', { count: 1 })} ${t('course:drainage.amounts', { amounts: 'a little once' })}`,
    ]);
    expect(screen.getAllByRole('link').map((a) => a.getAttribute('href'))).toEqual(['#/help']);
  });

  test('entries dated after today are counted, not drawn', async () => {
    await course([check('c1', '2031-03-03T09:00'), check('c2', '2031-05-03T09:00')]);
    expect(screen.getByText(t('course:ahead', { count: 1 }))).toBeTruthy();
    expect(said('chart:pain.title')[0]).toContain('1 answer');
  });

  test('a withdrawn size is gone from sentence, picture and table', async () => {
    const all = await course([measurement('m1', '2031-03-01T09:00', 22, 16), measurement('m2', '2031-03-03T09:00', 90, 80)]);
    expect(part('chart:size.title').textContent).toContain('56.5 cm²');
    await all.notebook.append([{ ...all.notebook.stamp(), kind: 'void', target: 'm2' }]);
    await waitFor(() => expect(part('chart:size.title').textContent).not.toContain('56.5 cm²'));
  });

  test('without the plan asking there is no blood sugar, and no warmth unless it was measured', async () => {
    await course([check('c1', '2031-03-03T09:00', { person: { glucose: { value: 100, unit: 'mg/dL' } } })], { of: demoPlan() });
    expect(screen.queryByRole('heading', { name: t('chart:glucose.title') })).toBeNull();
    expect(screen.queryByRole('heading', { name: t('chart:warmth.title') })).toBeNull();
  });
});

describe('what the sizes and the fluid say', () => {
  const weekly = (mm: readonly number[]) =>
    mm.map((length, i) => measurement(`m${i}`, `${addDays('2031-02-02' as LocalDay, i * 7)}T09:00`, length, length));

  test('half gone at four weeks is told as a fact, with the days it rests on, and no odds', async () => {
    const { baseline: _, ...wound } = woundOf(plan);
    await course(weekly([30, 28, 26, 24, 20]), { of: mustRead({ ...plan, wounds: [wound] }) });
    const sentences = said('chart:size.title');
    // 1 − 20²/30² = 55.6 %.
    expect(sentences).toContain(t('course:find.smaller', { day: short('2031-02-02'), percent: '56' }));
    expect(sentences).toContain(t('course:find.milestone.met', { weeks: '4', percent: '50', day: short('2031-03-02') }));
    expect(sentences.join(' ')).not.toMatch(/chance|likely|heal/i);
    expect(sentences).not.toContain(t('course:find.ask'));
  });

  test('sizes taken in two ways are not set against each other: no share, no movement of the edge', async () => {
    // 22 × 16 by the clinic on 2 March, larger with a ruler: what of it is the wound, nobody knows.
    await course([measurement('m1', '2031-03-03T09:00', 24, 18)]);
    const sentences = said('chart:size.title');
    expect(sentences).toContain(t('course:find.mixed'));
    expect(sentences.filter((s) => /larger|smaller|moved/.test(s ?? ''))).toEqual([]);
    expect(sentences).not.toContain(t('course:find.mixedPart'));
  });

  test('a milestone that rests on two ways of measuring says so', async () => {
    const wound = woundOf(plan);
    const baseline = { day: '2031-02-02' as LocalDay, lengthMm: 22, widthMm: 16 };
    await course([measurement('m1', '2031-03-02T09:00', 12, 10)], { of: mustRead({ ...plan, wounds: [{ ...wound, baseline }] }) });
    const met = t('course:find.milestone.met', { weeks: '4', percent: '50', day: short('2031-03-02') });
    const told = said('chart:size.title').find((s) => s?.startsWith(met));
    expect(told).toContain(t('course:find.mixedPart'));
  });

  test('larger sizes ask for a review by the clinic', async () => {
    const { baseline: _, ...wound } = woundOf(plan);
    await course(weekly([20, 22, 24, 26, 28]), { of: mustRead({ ...plan, wounds: [wound] }) });
    const sentences = said('chart:size.title');
    expect(sentences).toContain(t('course:find.review.larger'));
    expect(sentences).toContain(t('course:find.milestone.notMet', { weeks: '4', percent: '50', day: short('2031-03-02') }));
    expect(sentences).toContain(t('course:find.ask'));
  });

  test('two changes in a row with a soggy edge are one line for the clinic, and the plan stands', async () => {
    const soggy = (id: string, at: string) =>
      change(id, at, {
        band: 'light',
        answers: { drainageAmount: 'light', edge: 'whiteSoggy' },
        steps: [{ step: 'primary', state: 'done' }],
      });
    await course([soggy('d1', '2031-03-01T10:00'), soggy('d2', '2031-03-03T10:00')]);
    const line = part('chart:drainage.title').querySelector('.notice')?.textContent ?? '';
    expect(line).toContain(t('course:fit.why.soggyEdge'));
    expect(line).toContain('Keep to the plan');
  });

  test('a weighing below what the scale can show gives no rate', async () => {
    const weighed = (usedG: number) => ({
      ...measurement('w1', '2031-03-03T10:00', 1, 1),
      kind: 'weighing' as const,
      dryG: 6,
      usedG,
      stepG: 1,
      hours: 24,
    });
    const { method: _m, lengthMm: _l, widthMm: _w, ...record } = weighed(6.8) as never as Record<string, unknown>;
    await course([change('d1', '2031-03-03T10:00'), record as never]);
    expect(part('chart:drainage.title').textContent).toContain(t('course:weighed.below', { grams: '1.8' }));
  });
});

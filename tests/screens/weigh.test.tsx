// @vitest-environment happy-dom
import { cleanup, render, screen, waitFor } from '@testing-library/preact';
import { afterEach, describe, expect, test } from 'vitest';
import { NotebookContext } from '../../app/screens/context.ts';
import { WeighScreen } from '../../app/screens/weigh/weigh.tsx';
import { offStep, readGrams, readHours, typedIn } from '../../app/screens/weigh/weighing.ts';
import { t } from '../../app/words/i18n.ts';
import { woundName } from '../../app/words/names.ts';
import { change } from '../care/log/make.ts';
import { DRY_WOUND, demoPlan, mustRead, woundOf } from '../care/plan/plans.ts';
import { openTab } from '../store/phone.ts';
import { type Stage, stage } from './stage.tsx';

afterEach(cleanup);

/** The stage's clock stands at 15:00 UTC on 4 March 2031. */
const CHANGES = [change('d1', '2031-03-02T14:00'), change('d2', '2031-03-04T13:00')];

const field = (key: string): HTMLInputElement => screen.getByRole('textbox', { name: t(key) });
const radio = (name: string | RegExp): HTMLInputElement => screen.getByRole('radio', { name });
const title = () => screen.getByRole('heading', { level: 1 }).textContent;
const page = (name: string) => t(`course:weigh.page.${name}.ask`);
const alerts = () => screen.queryAllByRole('alert').map((e) => e.textContent);
const facts = () => [...document.querySelectorAll('.answers > div')].map((d) => [...d.children].map((c) => c.textContent));

const next = (all: Stage) => all.user.click(screen.getByRole('button', { name: t('common:next') }));

/** Wants to go on with an answer that will not do. A tap right after the page has turned is taken for a slip. */
async function tryNext(all: Stage) {
  await new Promise((done) => setTimeout(done, 450));
  await next(all);
}

async function open(records = CHANGES, plan = demoPlan()) {
  const all = await stage({ records, plan });
  all.show(<WeighScreen woundId="w1" />);
  return all;
}

/** From the start to a page, with plausible answers. */
async function to(all: Stage, wanted: 'dry' | 'used' | 'step' | 'hours' | 'look', dry = '12', used = '19') {
  await next(all);
  if (wanted === 'dry') return;
  await all.user.type(field('course:weigh.page.dry.field'), dry);
  await next(all);
  if (wanted === 'used') return;
  await all.user.type(field('course:weigh.page.used.field'), used);
  await next(all);
  if (wanted === 'step') return;
  await all.user.click(radio('1 g'));
  await next(all);
  if (wanted === 'hours') return;
  await next(all);
}

describe('weighing a dressing', () => {
  test('begins with when to do it and how to stay clean, before anything is asked', async () => {
    await open();
    expect(screen.getByText(t('course:weigh.page.start.text'))).toBeTruthy();
    for (const rule of ['dressFirst', 'gloves', 'clean', 'grams']) expect(screen.getByText(t(`course:weigh.rule.${rule}`))).toBeTruthy();
    expect(screen.queryByRole('textbox')).toBeNull();
  });

  test('asks one thing a page, takes the hours from the last two changes and writes one record', async () => {
    const all = await open();
    await to(all, 'hours');
    expect(title()).toBe(page('hours'));
    expect(field('course:weigh.page.hours.field').value).toBe('47');
    expect(screen.getAllByRole('radio').filter((r) => (r as HTMLInputElement).checked)).toHaveLength(1);
    await next(all);
    expect(title()).toBe(page('look'));
    expect(all.written('weighing')).toEqual([]);
    await all.user.click(screen.getByRole('button', { name: t('common:save') }));
    await waitFor(() => expect(title()).toBe(t('course:weigh.saved')));
    expect(all.written('weighing')).toEqual([
      expect.objectContaining({ kind: 'weighing', wound: 'w1', dryG: 12, usedG: 19, stepG: 1, hours: 47, change: 'd2', day: '2031-03-04' }),
    ]);
    expect(facts()).toEqual([
      [t('log:weighing.dry'), '12 g'],
      [t('log:weighing.used'), '19 g'],
      [t('log:weighing.heavier'), '7 g'],
      [t('log:weighing.hours'), '47 hours'],
      [t('log:weighing.step'), '1 g'],
    ]);
    await waitFor(() => expect(all.notebook.state.weighDraft).toBeUndefined());
    await all.user.click(screen.getByRole('button', { name: t('common:done') }));
    expect(location.hash).toBe('#/course');
  });

  test('the hours can be corrected; another dressing has no change of its own', async () => {
    const all = await open();
    await to(all, 'hours');
    await all.user.clear(field('course:weigh.page.hours.field'));
    await all.user.type(field('course:weigh.page.hours.field'), '40.5');
    await next(all);
    expect(screen.getByRole('button', { name: /40\.5 hours/ })).toBeTruthy();
    await all.user.click(screen.getByRole('button', { name: /40\.5 hours/ }));
    await all.user.click(radio(t('course:weigh.otherDressing')));
    expect(field('course:weigh.page.hours.field').value).toBe('');
    await tryNext(all);
    expect(alerts()).toEqual([t('course:weigh.hoursRange')]);
    await all.user.type(field('course:weigh.page.hours.field'), '24');
    await next(all);
    await all.user.click(screen.getByRole('button', { name: t('common:save') }));
    await waitFor(() => expect(all.written('weighing')).toHaveLength(1));
    const [record] = all.written('weighing');
    expect(record?.hours).toBe(24);
    expect(record).not.toHaveProperty('change');
  });

  test('without two changes in the log the hours are asked for, and nothing is made up', async () => {
    const all = await open([CHANGES[0] as (typeof CHANGES)[0]]);
    await to(all, 'hours');
    expect(screen.getByText(t('course:weigh.page.hours.none'))).toBeTruthy();
    expect(screen.queryByRole('radio')).toBeNull();
    expect(field('course:weigh.page.hours.field').value).toBe('');
  });

  test.each(['', '0', 'twelve', '999.5'])('a weight of "%s" says what to type, and stays on the page', async (dry) => {
    const all = await open();
    await to(all, 'dry');
    if (dry) await all.user.type(field('course:weigh.page.dry.field'), dry);
    await tryNext(all);
    expect(alerts()).toEqual([t('course:weigh.range')]);
    expect(title()).toBe(page('dry'));
    expect(field('course:weigh.page.dry.field').value).toBe(dry);
  });

  test('weights that the scale cannot have shown are asked about', async () => {
    const all = await open();
    await to(all, 'step', '12.4', '19');
    await tryNext(all);
    expect(alerts()).toEqual([t('course:weigh.chooseStep')]);
    await all.user.click(radio('1 g'));
    await tryNext(all);
    expect(alerts()).toEqual([t('course:weigh.offStep', { weight: '12.4 g', step: '1 g' })]);
    await all.user.click(radio(t('course:weigh.otherStep')));
    await all.user.type(field('course:weigh.page.step.field'), '0');
    await tryNext(all);
    expect(alerts()).toEqual([t('course:weigh.stepRange')]);
    await all.user.type(field('course:weigh.page.step.field'), '.2');
    await next(all);
    expect(title()).toBe(page('hours'));
  });

  test('a used dressing lighter than the dry one is pointed out, and believed if it is saved', async () => {
    const all = await open();
    await to(all, 'look', '19', '12');
    expect(screen.getByText(t('course:weigh.lighter'))).toBeTruthy();
    await all.user.click(screen.getByRole('button', { name: t('common:save') }));
    await waitFor(() => expect(facts()[2]).toEqual([t('log:weighing.lighter'), '7 g']));
  });

  test('left after the dry weight and opened days later on a new start of the app, it goes on where it was', async () => {
    const all = await open();
    await to(all, 'used');
    await waitFor(() => expect(all.notebook.state.weighDraft?.at).toBe('used'));
    cleanup();
    await new Promise((done) => setTimeout(done, 30));
    all.device.setClock('2031-03-06T15:00:00Z');
    const again = await openTab(all.notebook.shelf, all.device);
    render(
      <NotebookContext.Provider value={again}>
        <WeighScreen />
      </NotebookContext.Provider>,
    );
    expect(title()).toBe(page('used'));
    await all.user.click(screen.getByRole('button', { name: t('common:back') }));
    expect(field('course:weigh.page.dry.field').value).toBe('12');
  });

  test('what was typed stays when the page is left in the middle of typing', async () => {
    const all = await open();
    await to(all, 'dry');
    await all.user.type(field('course:weigh.page.dry.field'), '1');
    cleanup();
    all.show(<WeighScreen woundId="w1" />);
    expect(title()).toBe(page('dry'));
    expect(field('course:weigh.page.dry.field').value).toBe('1');
  });

  test('throwing it away writes nothing and begins anew', async () => {
    const all = await open();
    await to(all, 'look');
    await all.user.click(screen.getByRole('button', { name: t('course:weigh.drop') }));
    await waitFor(() => expect(all.notebook.state.weighDraft).toBeUndefined());
    expect(all.written('weighing')).toEqual([]);
    all.show(<WeighScreen woundId="w1" />);
    expect(title()).toBe(page('start'));
  });

  test('a store that refuses is told, and what was typed is still there', async () => {
    const all = await open();
    await to(all, 'look');
    const { append } = all.notebook;
    all.notebook.append = () => Promise.reject(new Error('full'));
    await all.user.click(screen.getByRole('button', { name: t('common:save') }));
    await waitFor(() => expect(alerts()).toEqual([t('common:notSaved')]));
    expect(title()).toBe(page('look'));
    all.notebook.append = append;
    await all.user.click(screen.getByRole('button', { name: t('common:save') }));
    await waitFor(() => expect(all.written('weighing')).toHaveLength(1));
  });

  test('a draft that was written but not cleared away is not offered again', async () => {
    const all = await open();
    await to(all, 'look');
    all.notebook.dropDraftOf = () => Promise.reject(new Error('busy'));
    await all.user.click(screen.getByRole('button', { name: t('common:save') }));
    await waitFor(() => expect(title()).toBe(t('course:weigh.saved')));
    cleanup();
    all.show(<WeighScreen woundId="w1" />);
    expect(title()).toBe(page('start'));
    expect(all.written('weighing')).toHaveLength(1);
  });

  test('a wound that must stay dry is not weighed, and cannot be chosen', async () => {
    const dry = mustRead({ ...demoPlan(), wounds: [{ ...DRY_WOUND, id: 'w1' }] });
    await open([], dry);
    expect(screen.getByText(t('course:weigh.keepDry'))).toBeTruthy();
    cleanup();
    const three = mustRead({ ...demoPlan(), wounds: [woundOf(demoPlan()), DRY_WOUND, { ...woundOf(demoPlan()), id: 'w3', site: 'arch' }] });
    await open([], three);
    expect(screen.getAllByRole('radio')).toHaveLength(2);
    expect(screen.queryByRole('radio', { name: woundName(DRY_WOUND) })).toBeNull();
  });
});

describe('reading what was typed', () => {
  test.each([
    ['12', 12],
    ['12,5', 12.5],
    ['999', 999],
    ['0', undefined],
    ['-3', undefined],
    ['1000', undefined],
    ['', undefined],
  ])('a weight of "%s" is %s', (text, grams) => expect(readGrams(text)).toBe(grams));

  test('hours reach to 31 days and no further', () => {
    expect([readHours('744'), readHours('745')]).toEqual([744, undefined]);
  });

  test('a step of a tenth fits tenths, whatever binary fractions make of them', () => {
    const typed = { ...typedIn(undefined), dry: '12.3', used: '19.7' };
    expect(offStep(typed, 0.1)).toBeUndefined();
    expect(offStep(typed, 0.5)).toBe(12.3);
    expect(offStep({ ...typed, dry: '12.5', used: '19.5' }, 0.5)).toBeUndefined();
  });

  test('a draft with odd content is read as empty, field by field', () => {
    expect(typedIn({ id: 'x', startedAt: '', wound: 'w1', answers: { dry: 12, used: '3', else: 'y' } })).toMatchObject({
      dry: '',
      used: '3',
    });
  });
});

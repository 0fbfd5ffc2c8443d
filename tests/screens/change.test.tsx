// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from '@testing-library/preact';
import { afterEach, describe, expect, test } from 'vitest';
import type { Wound } from '../../app/care/plan/plan.ts';
import { ChangeScreen } from '../../app/screens/change/change.tsx';
import { stepsOf } from '../../app/screens/change/finished.ts';
import type { ChangeDraft } from '../../app/store/drafts.ts';
import { t } from '../../app/words/i18n.ts';
import { woundName } from '../../app/words/names.ts';
import { check } from '../care/log/make.ts';
import { demoPlan, twoWoundPlan } from '../care/plan/plans.ts';
import type { FakeDevice } from '../store/phone.ts';
import { stage } from './stage.tsx';

afterEach(cleanup);

const wait = (device: FakeDevice, minutes: number): void => device.setClock(new Date(device.now() + minutes * 60_000).toISOString());

const title = (): string | null => screen.getByRole('heading', { level: 1 }).textContent;
const wound = demoPlan().wounds[0] as Wound;
const LOOKED: ChangeDraft = {
  id: 'change-1',
  startedAt: '2031-03-04T15:00:00Z',
  wound: wound.id,
  check: 'c',
  position: 0,
  look: 0,
  answers: { drainageAmount: 'light', drainageColour: 'clear', odour: 'none', redness: 'none', woundBed: ['red'], edge: 'usual' },
  path: 'recipe',
  asked: undefined,
  interrupted: undefined,
  alert: undefined,
  gathered: [],
  states: {},
};

test('finished, the page stays as it is until the next one comes, and no new change begins', async () => {
  const { show, user, notebook, written } = await stage({ records: [check('c', '2031-03-04T14:30')] });
  await notebook.saveChangeDraft({ ...LOOKED, position: stepsOf(wound, LOOKED).steps.length - 1 });
  show(<ChangeScreen woundId={wound.id} />);
  const before = title();
  await user.click(screen.getByRole('button', { name: t('change:finish') }));
  await waitFor(() => expect(location.hash).toBe('#/changed/change-1'));
  expect(notebook.state.changeDraft).toBeUndefined();
  expect(written('change')).toHaveLength(1);
  expect(title()).toBe(before);
});

test('before a change a check of its own: the first of the day, and after that a new one', async () => {
  const { show, notebook } = await stage();
  show(<ChangeScreen woundId={wound.id} />);
  expect(screen.getByRole('link', { name: t('today:startCheck') }).getAttribute('href')).toBe('#/check');
  await notebook.append([check('c', '2031-03-04T14:30', { feet: {} })]);
  show(<ChangeScreen woundId={wound.id} />);
  expect(title()).toBe(t('change:newCheckFirst'));
  expect(screen.getByRole('link', { name: t('change:newCheckStart') }).getAttribute('href')).toBe('#/check');
});

test('[drainage-above-plan] more fluid than expected is told with the call before the new dressing goes on, and only then', async () => {
  const plan = demoPlan();
  const wet = { ...wound, bands: { ...wound.bands, heavy: wound.bands.moderate } };
  const { show, user, notebook } = await stage({ plan: { ...plan, wounds: [wet] }, records: [check('c', '2031-03-04T14:30')] });
  const draft = { ...LOOKED, answers: { ...LOOKED.answers, drainageAmount: 'heavy' } };
  await notebook.saveChangeDraft({ ...draft, position: stepsOf(wet, draft).before.length });
  show(<ChangeScreen woundId={wound.id} />);
  expect(screen.getByText(t('plan:aboveExpected'))).toBeTruthy();
  await user.click(screen.getByRole('button', { name: t('change:doneNext') }));
  expect(screen.queryByText(t('plan:aboveExpected'))).toBeNull();
});

const button = (key: string): HTMLElement => screen.getByRole('button', { name: t(key) });
const beforeLook = { ...LOOKED, answers: {}, path: undefined };

describe('a change left halfway', () => {
  const opened = { ...beforeLook, position: 4 };

  test('come back to after more than half an hour: clean hands, fresh gloves and a rinse first, then the same step', async () => {
    const { show, user, notebook, device } = await stage({ records: [check('c', '2031-03-04T14:30')] });
    await notebook.saveChangeDraft({ ...opened, savedAt: '2031-03-04T15:00:00Z' });
    wait(device, 31);
    show(<ChangeScreen woundId={wound.id} />);
    expect(title()).toBe(t('change:rested.title', { time: '9:00 AM' }));
    expect(screen.getByText(t('change:rested.open'))).toBeTruthy();
    await user.click(button('change:rested.goOn'));
    await waitFor(() => expect(title()).toBe(t('change:step.rinse.title')));
  });

  test('come back to within half an hour: the same step at once', async () => {
    const { show, notebook, device } = await stage({ records: [check('c', '2031-03-04T14:30')] });
    await notebook.saveChangeDraft({ ...opened, savedAt: '2031-03-04T15:00:00Z' });
    wait(device, 29);
    show(<ChangeScreen woundId={wound.id} />);
    expect(title()).toBe(t('change:step.rinse.title'));
  });

  test('a draft of an older version, which does not know when it was left, goes by its beginning', async () => {
    const { show, notebook, device } = await stage({ records: [check('c', '2031-03-04T14:30')] });
    await notebook.saveChangeDraft(opened);
    wait(device, 31);
    show(<ChangeScreen woundId={wound.id} />);
    expect(title()).toBe(t('change:rested.title', { time: '9:00 AM' }));
  });

  test('a wound that must stay dry is never to be rinsed, and one under its old dressing is left alone', async () => {
    const plan = twoWoundPlan();
    const { show, notebook, device } = await stage({ plan, records: [check('c', '2031-03-04T14:30')] });
    await notebook.saveChangeDraft({ ...opened, wound: 'w2' });
    wait(device, 31);
    show(<ChangeScreen woundId="w2" />);
    expect(screen.getByText(t('change:rested.openDry'))).toBeTruthy();
    expect(screen.getByRole('main').textContent).not.toMatch(/rinse/i);
    await notebook.saveChangeDraft({ ...opened, position: 1 });
    show(<ChangeScreen woundId={wound.id} />);
    expect(screen.getByText(t('change:rested.under'))).toBeTruthy();
  });

  test('the time of the last step is kept with it, so that going on counts as being there', async () => {
    const { show, user, notebook, device } = await stage({ records: [check('c', '2031-03-04T14:30')] });
    await notebook.saveChangeDraft(opened);
    show(<ChangeScreen woundId={wound.id} />);
    wait(device, 20);
    await user.click(button('change:doneNext'));
    expect(notebook.state.changeDraft?.savedAt).toBe('2031-03-04T15:20:00.000Z');
  });

  test('begun on another day: it goes into the log as stopped, with what was entered, and a new check comes first', async () => {
    const { show, user, notebook, device, written } = await stage({ records: [check('c', '2031-03-04T14:30')] });
    await notebook.saveChangeDraft({ ...LOOKED, path: undefined, position: 5, look: 3 });
    wait(device, 20 * 60);
    show(<ChangeScreen woundId={wound.id} />);
    expect(title()).toBe(t('change:stale.title', { day: 'Tuesday, March 4' }));
    expect(screen.getByText(t('change:stale.open'))).toBeTruthy();
    await user.click(button('change:stale.end'));
    await waitFor(() => expect(location.hash).toBe('#/today'));
    expect(written('change')[0]).toMatchObject({ id: 'change-1', stopped: true, startedAt: LOOKED.startedAt, answers: LOOKED.answers });
    expect(notebook.state.changeDraft).toBeUndefined();
  });

  test('begun shortly before midnight it may end after it', async () => {
    const late = '2031-03-05T05:50:00Z';
    const { show, notebook, device } = await stage({ time: late, records: [check('c', '2031-03-05T05:30')] });
    await notebook.saveChangeDraft({ ...opened, startedAt: late });
    wait(device, 40);
    show(<ChangeScreen woundId={wound.id} />);
    expect(title()).toBe(t('change:rested.title', { time: '11:50 PM' }));
  });
});

describe('having to stop', () => {
  const stopAt = async (position: number, more: Partial<ChangeDraft> = {}) => {
    const all = await stage({ records: [check('c', '2031-03-04T14:30')] });
    await all.notebook.saveChangeDraft({ ...LOOKED, position, ...more });
    all.show(<ChangeScreen woundId={wound.id} />);
    await all.user.click(button('change:stop'));
    return all;
  };

  test('coming back to the step is offered first: the change stays as it is', async () => {
    const { user, notebook, written } = await stopAt(4, { path: undefined });
    expect(screen.getByText(t('change:stopText'))).toBeTruthy();
    await user.click(button('change:stopLater'));
    expect(location.hash).toBe('#/today');
    expect(notebook.state.changeDraft?.position).toBe(4);
    expect(written('change')).toHaveLength(0);
  });

  test('[one-sign] what the open wound showed asks for its call, although the change was broken off', async () => {
    const { user, written } = await stopAt(4, { path: undefined, answers: { drainageAmount: 'light', redness: 'wide' } });
    await user.click(button('change:stopSure'));
    await waitFor(() => expect(location.hash).toBe('#/today'));
    expect(written('alert').map((a) => [a.level, a.from, a.fired[0]?.rule])).toEqual([['callToday', 'change-1', 'one-sign']]);
    expect(written('change')[0]?.stopped).toBe(true);
  });

  test('what it showed without asking for a call raises none', async () => {
    const { user, written } = await stopAt(4, { path: undefined, answers: { drainageAmount: 'light', redness: 'none' } });
    await user.click(button('change:stopSure'));
    await waitFor(() => expect(written('change')).toHaveLength(1));
    expect(written('alert')).toEqual([]);
  });

  test('once the dressing is held, it says so, and no longer that the wound is open', async () => {
    const { steps } = stepsOf(wound, LOOKED);
    await stopAt(steps.findIndex((s) => s.step === 'fix') + 1);
    expect(screen.getByText(t('change:dressed'))).toBeTruthy();
    expect(screen.queryByText(t('change:stopText'))).toBeNull();
  });

  test('before the old dressing is off there is no open wound to cover', async () => {
    await stopAt(1, { path: undefined });
    expect(screen.getByText(t('change:stopUnder'))).toBeTruthy();
  });
});

describe('which wound', () => {
  test.each([
    ['a step', { position: 4 }],
    ['the first page of the look', { position: 5 }],
    ['a question of the look', { position: 5, look: 2 }],
  ])('with two wounds %s names the one it is about', async (_what, more) => {
    const { show, notebook } = await stage({ plan: twoWoundPlan(), records: [check('c', '2031-03-04T14:30')] });
    await notebook.saveChangeDraft({ ...beforeLook, ...more });
    show(<ChangeScreen woundId={wound.id} />);
    expect(document.querySelector('.over .about')?.textContent).toBe(woundName(wound));
  });

  test('with one wound there is nothing to tell apart', async () => {
    const { show, notebook } = await stage({ records: [check('c', '2031-03-04T14:30')] });
    await notebook.saveChangeDraft({ ...beforeLook, position: 4 });
    show(<ChangeScreen woundId={wound.id} />);
    expect(document.querySelector('.over .about')).toBeNull();
  });

  test('the questions of the look are counted once', async () => {
    const { show, notebook } = await stage({ records: [check('c', '2031-03-04T14:30')] });
    await notebook.saveChangeDraft({ ...beforeLook, position: 5, look: 2 });
    show(<ChangeScreen woundId={wound.id} />);
    expect(document.querySelector('.over')?.textContent).toBe(t('change:lookProgress', { at: '2', of: '6' }));
  });
});

test('the first page says how to keep the phone clean, and leads to the large button', async () => {
  const { show } = await stage({ records: [check('c', '2031-03-04T14:30')] });
  show(<ChangeScreen woundId={wound.id} />);
  expect(screen.getByText(t('change:phone'))).toBeTruthy();
  expect(screen.getByRole('link', { name: t('change:phoneButton') }).getAttribute('href')).toBe('#/settings/wideNext');
});

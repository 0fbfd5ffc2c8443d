// @vitest-environment happy-dom

import { cleanup, screen, within } from '@testing-library/preact';
import { afterEach, describe, expect, test } from 'vitest';
import { TodayScreen } from '../../app/screens/today/today.tsx';
import { acceptPlan } from '../../app/store/accept-plan.ts';
import { formatTime, inARow } from '../../app/words/format.ts';
import { t } from '../../app/words/i18n.ts';
import { alert, change, check, outcome } from '../care/log/make.ts';
import { demoPlan, mustRead, twoWoundPlan } from '../care/plan/plans.ts';
import { stage } from './stage.tsx';

afterEach(cleanup);

const main = (): HTMLElement => screen.getByRole('main');
const button = (key: string): HTMLElement => screen.getByRole('button', { name: t(key) });
const NOW = '2031-03-04T14:00';

describe('the first screen says what to do now', () => {
  test('a morning without a check: start it', async () => {
    const { show, user } = await stage();
    show(<TodayScreen />);
    expect(within(main()).getByText(t('today:now.check'))).toBeTruthy();
    await user.click(button('today:startCheck'));
    expect(location.hash).toBe('#/check');
  });

  test('it greets by the name the plan gives', async () => {
    const { show } = await stage();
    show(<TodayScreen />);
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('today:title', { name: 'Nela' }));
  });

  test('a check under way: go on with it', async () => {
    const { show, user, notebook } = await stage();
    await notebook.saveCheckDraft({ id: 'x', startedAt: '2031-03-04T14:00:00Z', answers: { unwell: ['none'] } });
    show(<TodayScreen />);
    await user.click(button('today:goOnCheck'));
    expect(location.hash).toBe('#/check');
  });

  test('checked, and a change is due: change the dressing of that wound', async () => {
    const { show, user } = await stage({ records: [check('c', NOW)] });
    show(<TodayScreen />);
    expect(within(main()).getByText(t('today:dueFirst'))).toBeTruthy();
    await user.click(button('today:startChange'));
    expect(location.hash).toBe('#/change/w1');
  });

  test('checked and changed: nothing more is due, and the day of the next change stands there', async () => {
    const { show } = await stage({ records: [check('c', NOW), change('d', NOW)] });
    show(<TodayScreen />);
    expect(within(main()).getByText(t('today:now.rest'))).toBeTruthy();
    expect(within(main()).getByText(t('today:due', { day: 'Thursday' }))).toBeTruthy();
  });

  test('the check of yesterday does not count for today', async () => {
    const { show } = await stage({ records: [check('c', '2031-03-03T14:00')] });
    show(<TodayScreen />);
    expect(button('today:startCheck')).toBeTruthy();
  });

  test('a late change says how late', async () => {
    const { show } = await stage({ records: [check('c', NOW), change('d', '2031-02-28T14:00')] });
    show(<TodayScreen />);
    expect(within(main()).getByText(t('today:dueLate', { count: 2 }))).toBeTruthy();
  });

  test('a first change that was never done gets late too, counted from the day the book began', async () => {
    const { show, device } = await stage();
    device.setClock('2031-03-07T15:00:00Z');
    show(<TodayScreen />);
    expect(within(main()).getByText(t('today:dueLate', { count: 3 }))).toBeTruthy();
  });

  test('a wound that was only covered: ask the clinic when, until the plan itself would call it late', async () => {
    const { show } = await stage({ records: [check('c', NOW), change('d', NOW, { path: 'coverAndCall', band: undefined })] });
    show(<TodayScreen />);
    expect(within(main()).getByText(t('today:askWhen'))).toBeTruthy();
    const late = await stage({ records: [check('c', NOW), change('d', '2031-02-28T14:00', { path: 'coverAndCall', band: undefined })] });
    late.show(<TodayScreen />);
    expect(within(main()).getByText(t('today:dueLate', { count: 2 }))).toBeTruthy();
  });

  test('dressed again after that, the day of the next change stands there', async () => {
    const covered = change('d', '2031-03-04T13:00', { path: 'coverAndCall', band: undefined });
    const { show } = await stage({ records: [check('c', NOW), covered, change('e', NOW)] });
    show(<TodayScreen />);
    expect(within(main()).getByText(t('today:due', { day: 'Thursday' }))).toBeTruthy();
  });

  test('a change half done is told with its wound, also while a call is open', async () => {
    const { show, notebook } = await stage({ records: [check('c', NOW), alert('a1', NOW)] });
    await notebook.saveChangeDraft({ id: 'x', startedAt: NOW, wound: 'w1', position: 4, look: 0, answers: {}, gathered: [], states: {} });
    show(<TodayScreen />);
    expect(button('today:whomToCall')).toBeTruthy();
    expect(within(main()).getByText(t('today:now.goOnChange'))).toBeTruthy();
    expect(screen.getByRole('link', { name: t('today:goOnChange') })).toBeTruthy();
  });

  test('each wound of the plan has its own line', async () => {
    const { show } = await stage({ plan: twoWoundPlan() });
    show(<TodayScreen />);
    expect(within(main()).getAllByText(t('today:dueFirst'))).toHaveLength(2);
  });

  test('it never says that all is well', async () => {
    const { show } = await stage({ records: [check('c', NOW), change('d', NOW)] });
    show(<TodayScreen />);
    expect(main().textContent).toContain(t('common:caution'));
    expect(main().textContent).not.toMatch(/all is well|healthy|fine/i);
  });
});

describe('an alert that waits', () => {
  const open = alert('a1', '2031-03-04T14:50', { level: 'callNow', told: 'callNow' });

  test('comes before everything else, and the main button leads to it', async () => {
    const { show, user } = await stage({ records: [check('c', NOW), open] });
    show(<TodayScreen />);
    const heading = screen.getByRole('heading', { level: 1 });
    const link = within(main()).getByRole('link', { name: new RegExp(t('alert:title.callNow')) });
    expect(heading.nextElementSibling).toBe(link);
    expect(link.getAttribute('href')).toBe('#/alert/a1');
    // The card says itself what to do; a second sentence could only contradict it.
    expect(main().querySelector('.now')).toBeNull();
    await user.click(button('today:whomToCall'));
    expect(location.hash).toBe('#/alert/a1');
  });

  test('that is an emergency: the main button is the call itself, and the card still leads to its page', async () => {
    const { show } = await stage({ records: [alert('a2', NOW, { level: 'emergency', told: 'emergency' })] });
    show(<TodayScreen />);
    const call = await screen.findByRole('link', { name: /911/ });
    expect(call.getAttribute('href')).toBe('tel:911');
    expect(call.className).toContain('button-grave');
    expect(screen.queryByRole('button', { name: t('today:whomToCall') })).toBeNull();
    const card = within(main()).getByRole('link', { name: new RegExp(t('alert:title.emergency')) });
    expect(card.getAttribute('href')).toBe('#/alert/a2');
  });

  test('the gravest of several is shown, and how many more there are', async () => {
    const grave = alert('a2', '2031-03-04T13:00', { level: 'emergency', told: 'emergency' });
    const { show } = await stage({ records: [open, grave] });
    show(<TodayScreen />);
    const link = within(main()).getByRole('link', { name: new RegExp(t('alert:title.emergency')) });
    expect(link.getAttribute('href')).toBe('#/alert/a2');
    expect(link.textContent).toContain(t('today:alertsMore', { count: 1 }));
  });

  test('stays after a call that nobody answered, and goes when the clinic was reached', async () => {
    const { show, notebook } = await stage({ records: [open, outcome('o1', ['a1'], 'couldNotReach', NOW)] });
    show(<TodayScreen />);
    expect(button('today:whomToCall')).toBeTruthy();
    await notebook.append([outcome('o2', ['a1'], 'reached', '2031-03-04T14:30')]);
    await screen.findByRole('button', { name: t('today:startCheck') });
    expect(screen.queryByRole('link', { name: new RegExp(t('alert:title.callNow')) })).toBeNull();
  });
});

describe('what came of a call', () => {
  const said = (text: string) => screen.findByText(text);

  test('names the day once it is not today’s', async () => {
    const last = outcome('o1', ['a1'], 'reached', '2031-03-03T20:00', { said: 'Come in.', zone: 'America/Chicago' });
    const { show } = await stage({ records: [alert('a1', '2031-03-03T19:50'), last] });
    show(<TodayScreen />);
    expect(await said(t('alert:advice', { when: inARow(['yesterday', formatTime(last.at, last.zone)]) }))).toBeTruthy();
  });

  test('without a word written down it asks for nothing that nobody can read, and leads to where it is written', async () => {
    const last = outcome('o1', ['a1'], 'reached', NOW, { zone: 'America/Chicago' });
    const { show } = await stage({ records: [alert('a1', NOW), last] });
    show(<TodayScreen />);
    expect(await said(t('alert:adviceBare', { when: formatTime(last.at, last.zone) }))).toBeTruthy();
    expect(screen.getByRole('link', { name: t('alert:adviceWrite') }).getAttribute('href')).toBe('#/alert/a1');
  });
});

describe('what stands without a check', () => {
  test('a change that is twice too late is told, with whom to call', async () => {
    const { show } = await stage({ records: [change('d', '2031-02-27T14:00')] });
    show(<TodayScreen />);
    const region = await screen.findByRole('region', { name: t('today:standing') });
    expect(within(region).getByText(t('rules:change-overdue.plain'))).toBeTruthy();
    expect(
      within(region)
        .getByRole('link', { name: t('today:whomToCall') })
        .getAttribute('href'),
    ).toBe('#/call');
  });

  test('a plan past its review date is told', async () => {
    const plan = mustRead({ ...demoPlan(), reviewBy: '2031-03-01' });
    const { show } = await stage({ plan });
    show(<TodayScreen />);
    expect(await screen.findByRole('region', { name: t('today:standing') })).toBeTruthy();
  });

  test('nothing to tell, no box', async () => {
    const { show } = await stage();
    show(<TodayScreen />);
    // The box comes a moment after the page, if it comes.
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(screen.queryByRole('region', { name: t('today:standing') })).toBeNull();
  });
});

test('the way to other people is there once there are two', async () => {
  const { show, notebook } = await stage();
  show(<TodayScreen />);
  expect(screen.queryByRole('link', { name: t('today:people') })).toBeNull();
  const other = demoPlan();
  await acceptPlan(notebook, mustRead({ ...other, id: 'birch-1', person: { ...other.person, id: 'tomas', callMe: 'Tomas' } }));
  await screen.findByRole('link', { name: t('today:people') });
  expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('today:title', { name: 'Tomas' }));
});

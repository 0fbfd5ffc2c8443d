// @vitest-environment happy-dom

import { screen } from '@testing-library/preact';
import { describe, expect, test, vi } from 'vitest';
import type { AlertRecord } from '../../app/care/log/records.ts';
import { AlertScreen } from '../../app/screens/alert/alert.tsx';
import { ChangedScreen } from '../../app/screens/change/changed.tsx';
import { CheckedScreen } from '../../app/screens/check/checked.tsx';
import { PeopleScreen } from '../../app/screens/settings/settings.tsx';
import { TodayScreen } from '../../app/screens/today/today.tsx';
import { acceptPlan } from '../../app/store/accept-plan.ts';
import { t } from '../../app/words/i18n.ts';
import { alert, change, check, outcome } from '../care/log/make.ts';
import { demoPlan, mustRead } from '../care/plan/plans.ts';
import { SATURDAY, stage } from './stage.tsx';

const NOW = '2031-03-04T14:00';
const JUST_NOW = '2031-03-04T14:50';
const CALM = () => t('alert:lead.carryOn');
const fever: Partial<AlertRecord> = { level: 'callNow', told: 'callNow', fired: [{ rule: 'fever', level: 'callNow', findings: [] }] };

describe('an open alert leads on every screen', () => {
  test('a later mild check does not hide it, and says nothing calm', async () => {
    const { show } = await stage({ records: [alert('a1', JUST_NOW, fever), check('c', '2031-03-04T14:55')] });
    show(<CheckedScreen id="c" />);
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('alert:title.callNow'));
    expect(screen.queryByText(CALM())).toBeNull();
    expect(screen.getByText(t('alert:stillOpen'))).toBeTruthy();
    expect(screen.getByRole('link', { name: t('today:whomToCall') }).getAttribute('href')).toBe('#/alert/a1');
  });

  test('nor does a finished change', async () => {
    const { show } = await stage({ records: [alert('a1', JUST_NOW, fever), change('d', '2031-03-04T14:55')] });
    show(<ChangedScreen id="d" />);
    expect(screen.queryByText(CALM())).toBeNull();
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('alert:title.callNow'));
  });

  test('an entry that is not here gives no verdict', async () => {
    const { show } = await stage();
    for (const gone of [<CheckedScreen key="1" id="zzz" />, <ChangedScreen key="2" id="zzz" />]) {
      show(gone);
      expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('alert:goneEntry'));
      expect(screen.queryByText(CALM())).toBeNull();
    }
  });

  test('it is seen from another person’s book and in the list of people', async () => {
    const { show, notebook } = await stage({ records: [alert('a1', NOW, fever)] });
    await acceptPlan(notebook, mustRead({ ...demoPlan(), id: 'other', person: { id: 'otto', callMe: 'Otto', language: 'en' } }));
    show(<TodayScreen />);
    expect(await screen.findByRole('button', { name: new RegExp(t('alert:short.callNow')) })).toBeTruthy();
    show(<PeopleScreen />);
    expect(screen.getByText(t('alert:short.callNow'))).toBeTruthy();
    // Answered, it is gone there too.
    await notebook.openBook('demo-nela');
    await notebook.append([outcome('o', ['a1'], 'reached', NOW)]);
    await notebook.openBook('otto');
    show(<TodayScreen />);
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(screen.queryByRole('button', { name: new RegExp(t('alert:short.callNow')) })).toBeNull();
  });
});

describe('one told level on every screen', () => {
  test('nobody answered: both the first screen and the alert say emergency department', async () => {
    const { show } = await stage({ records: [alert('a1', NOW, fever), outcome('o1', ['a1'], 'couldNotReach', NOW)] });
    show(<TodayScreen />);
    expect(screen.getByRole('link', { name: new RegExp(t('alert:departmentTitle')) })).toBeTruthy();
    show(<AlertScreen id="a1" />);
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('alert:departmentTitle'));
    expect(screen.getByText(t('alert:noAnswer'))).toBeTruthy();
  });

  test('closed for more than a day and no after-hours phone: go, do not call', async () => {
    const { clinic } = demoPlan();
    const { outOfHoursPhone: _none, ...open } = clinic;
    const plan = mustRead({ ...demoPlan(), clinic: open });
    const { show } = await stage({
      plan,
      time: SATURDAY,
      records: [alert('a1', '2031-03-08T14:00', { level: 'callToday', told: 'callNow' })],
    });
    show(<AlertScreen id="a1" />);
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('alert:departmentTitle'));
    expect(screen.queryByText(t('alert:lead.callNow'))).toBeNull();
    expect(screen.getAllByText(t('alert:department'))).toHaveLength(1);
  });

  test('in an emergency the call itself can be written down', async () => {
    const emergency: Partial<AlertRecord> = { level: 'emergency', told: 'emergency', fired: [] };
    const { show, user, written } = await stage({ records: [alert('a1', NOW, emergency)] });
    show(<AlertScreen id="a1" />);
    await user.click(screen.getByRole('button', { name: t('alert:outcome.calledEmergency') }));
    await user.click(screen.getByRole('button', { name: t('common:save') }));
    await vi.waitFor(() => expect(written('outcome')[0]?.what).toBe('calledEmergency'));
  });
});

describe('after the call', () => {
  test('what the clinic said stands on the first screen for a day', async () => {
    const said = { ...outcome('o1', ['a1'], 'reached', NOW), said: 'Come Monday at nine.' };
    const { show, device } = await stage({ records: [alert('a1', NOW, fever), said] });
    show(<TodayScreen />);
    expect(await screen.findByText('Come Monday at nine.')).toBeTruthy();
    device.setClock('2031-03-05T20:30:00Z');
    show(<TodayScreen />);
    // It comes a little after the page itself, and by now would have come.
    await new Promise((done) => setTimeout(done, 200));
    expect(screen.queryByText('Come Monday at nine.')).toBeNull();
  });

  test('a check that a grave answer cut short is not the day’s check', async () => {
    const cut = check('c', NOW, { feet: {}, wounds: {} });
    const { show } = await stage({ records: [cut] });
    show(<TodayScreen />);
    expect(screen.getByRole('button', { name: t('today:redoCheck') })).toBeTruthy();
  });
});

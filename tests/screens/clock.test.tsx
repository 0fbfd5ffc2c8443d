// @vitest-environment happy-dom
import { cleanup, screen, within } from '@testing-library/preact';
import { afterEach, describe, expect, test } from 'vitest';
import type { Answers } from '../../app/care/check/answers.ts';
import { judgeStanding } from '../../app/care/escalation/judge.ts';
import type { LogRecord } from '../../app/care/log/records.ts';
import { isCopyDue } from '../../app/care/schedule/copy-due.ts';
import type { LocalDay } from '../../app/care/schedule/day.ts';
import { forecast } from '../../app/care/supplies/forecast.ts';
import { ledger } from '../../app/care/supplies/ledger.ts';
import { AlertScreen } from '../../app/screens/alert/alert.tsx';
import { dueOf } from '../../app/screens/due.ts';
import { settingOf } from '../../app/screens/sitting.ts';
import { TodayScreen } from '../../app/screens/today/today.tsx';
import { t } from '../../app/words/i18n.ts';
import { alert, change, check, outcome, stamp } from '../care/log/make.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { type Stage, stage } from './stage.tsx';

afterEach(cleanup);

/** The hour at which a phone's clock ran a year ahead, and the true one at which it was put right. */
const WRONG = '2032-03-04T15:00';
const RIGHT = '2031-03-05T15:00:00Z';
const main = (): HTMLElement => screen.getByRole('main');
const found = (drainageAmount: string): { answers: Answers } => ({ answers: { drainageAmount } as Answers });
const wound = (s: Stage) => s.notebook.wound('w1') as NonNullable<ReturnType<Stage['notebook']['wound']>>;
const zone = 'America/Chicago';

describe('a clock that ran a year ahead and was put right', () => {
  const back = (records: LogRecord[]) => stage({ time: RIGHT, records });

  test('hides no check and no change that is due', async () => {
    const s = await back([check('c', WRONG), change('d', WRONG)]);
    s.show(<TodayScreen />);
    expect(screen.getByRole('button', { name: t('today:startCheck') })).toBeTruthy();
    expect(within(main()).getByText(t('today:dueFirst'))).toBeTruthy();
  });

  test('what was seen under it does not set how often the dressing is changed: the last true look does', async () => {
    // The demo plan: every 48 hours at light drainage, every 24 at moderate.
    const s = await back([change('ahead', WRONG, found('light')), change('true', '2031-03-05T14:00', found('moderate'))]);
    expect(dueOf(s.notebook, wound(s))?.day).toBe('2031-03-06');
  });

  test('an alert of that time is shown, and counts as one that has waited too long: nobody knows how long it did', async () => {
    const s = await back([check('c', WRONG), alert('a', WRONG, { from: 'c' })]);
    s.show(<TodayScreen />);
    expect(main().querySelector('.open-alert')).not.toBeNull();
    expect(judgeStanding(settingOf(s.notebook)).fired.map((r) => r.rule)).toContain('unresolved');
    s.show(<AlertScreen id="a" />);
    expect(main().querySelector('.mark-callNow')).not.toBeNull();
  });

  test('an alert of another phone a few minutes ahead has only just been raised', async () => {
    const s = await back([alert('a', '2031-03-05T15:05')]);
    expect(judgeStanding(settingOf(s.notebook)).fired.map((r) => r.rule)).not.toContain('unresolved');
  });

  test('what the clinic said then does not stand on the first page for a year, nor hide what it says now', async () => {
    const words = (said: string) => ({ said });
    const s = await back([
      alert('a', WRONG),
      outcome('o', ['a'], 'reached', WRONG, words('said under a wrong clock')),
      alert('b', '2031-03-05T13:00'),
      outcome('p', ['b'], 'reached', '2031-03-05T14:00', words('said this morning')),
    ]);
    s.show(<TodayScreen />);
    expect(await within(main()).findByText('said this morning')).toBeTruthy();
    expect(within(main()).queryByText('said under a wrong clock')).toBeNull();
  });

  test('a count of that time does not overrule what is counted and used since', async () => {
    const counted = (id: string, at: string, amount: number) =>
      ({ ...stamp(id, at), kind: 'stock', item: 'gauze', movement: 'counted', amount }) as const;
    const item = demoPlan().supplies[0]?.id ?? '';
    const s = await back([
      { ...counted('ahead', WRONG, 400), item },
      { ...counted('now', '2031-03-05T14:00', 2), item },
    ]);
    const entries = await s.notebook.stockEntries();
    expect(ledger(entries, item, Date.parse(RIGHT)).onHand).toBe(2);
    expect(forecast(demoPlan(), entries, item, Date.parse(RIGHT), zone).usable).toBe(2);
    // Where it is all there is, it counts.
    expect(ledger(entries.slice(-1), item, Date.parse(RIGHT)).onHand).toBe(400);
  });

  test('the reminder to keep a copy is not put off by a year', () => {
    const copies = { every: 14, first: '2031-01-01' as LocalDay, last: undefined, later: undefined };
    const today = '2031-03-05' as LocalDay;
    expect(isCopyDue({ ...copies, later: '2031-03-08' as LocalDay }, today)).toBe(false);
    expect(isCopyDue({ ...copies, later: '2032-03-11' as LocalDay }, today)).toBe(true);
    expect(isCopyDue({ ...copies, last: '2032-03-04' as LocalDay }, today)).toBe(true);
    // A day ahead is only another zone.
    expect(isCopyDue({ ...copies, last: '2031-03-06' as LocalDay }, today)).toBe(false);
  });
});

describe('a clock that jumps a year ahead', () => {
  test('loses nothing: what was open is open, what was due is late, and the last sitting is still there', async () => {
    const s = await stage({ records: [check('c', '2031-03-04T14:00'), change('d', '2031-03-04T14:00'), alert('a', '2031-03-04T14:05')] });
    s.device.setClock('2032-03-04T15:00:00Z');
    await s.notebook.reload();
    s.show(<TodayScreen />);
    expect(main().querySelector('.open-alert')).not.toBeNull();
    expect(within(main()).getByText(t('today:dueLate', { count: 364 }))).toBeTruthy();
    expect(s.notebook.state.records.map((r) => r.id)).toEqual(expect.arrayContaining(['c', 'd', 'a']));
    s.device.setClock('2031-03-04T16:00:00Z');
    await s.notebook.reload();
    s.show(<TodayScreen />);
    expect(within(main()).getByText(t('today:due', { day: 'Thursday' }))).toBeTruthy();
  });
});

describe('a journey to another zone', () => {
  test('the day is that of the place: yesterday’s check is not today’s, and what is written keeps its own day', async () => {
    const evening = '2031-03-05T02:00:00Z';
    const s = await stage({ time: evening });
    await s.notebook.append([
      { ...check('c'), ...s.notebook.stamp('c') },
      { ...change('d'), ...s.notebook.stamp('d') },
    ]);
    s.show(<TodayScreen />);
    expect(within(main()).getByText(t('today:now.rest'))).toBeTruthy();
    s.device.zone = () => 'Asia/Tokyo';
    s.device.setClock('2031-03-05T03:00:00Z');
    await s.notebook.reload();
    s.show(<TodayScreen />);
    expect(s.notebook.today()).toBe('2031-03-05');
    expect(screen.getByRole('button', { name: t('today:startCheck') })).toBeTruthy();
    expect(s.written('check')[0]).toMatchObject({ day: '2031-03-04', zone: 'America/Chicago' });
    // 48 hours on, on the clock of the place: 11:00 in Tokyo on the 7th.
    expect(dueOf(s.notebook, wound(s))?.day).toBe('2031-03-07');
  });
});

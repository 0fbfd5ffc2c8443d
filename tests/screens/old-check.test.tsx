// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from '@testing-library/preact';
import { afterEach, expect, test, vi } from 'vitest';
import { CheckScreen } from '../../app/screens/check/check.tsx';
import { TodayScreen } from '../../app/screens/today/today.tsx';
import { t } from '../../app/words/i18n.ts';
import { mildItems, type Stage, stage } from './stage.tsx';

afterEach(cleanup);

const title = () => screen.queryByRole('heading', { level: 1 })?.textContent;
/** Monday evening in Chicago; the stage stands on the Tuesday morning after. */
const MONDAY_EVENING = '2031-03-04T02:00:00.000Z';

/** A phone on which a check was left the evening before. */
async function leftWith(answers: Record<string, unknown>): Promise<Stage> {
  const all = await stage();
  await all.notebook.saveCheckDraft({ id: 'left-1', startedAt: MONDAY_EVENING, at: 'pain@left', answers });
  return all;
}

test('a check left yesterday is not offered as today’s', async () => {
  const { show } = await leftWith({ unwell: ['none'] });
  show(<TodayScreen />);
  expect(screen.getByRole('button', { name: t('today:startCheck') })).toBeTruthy();
  expect(screen.getByText(t('today:now.check'))).toBeTruthy();
  expect(screen.queryByText(t('today:now.goOnCheck'))).toBeNull();
});

test('it becomes a check of its own day, and today’s begins with no answer', async () => {
  const { show, notebook, written } = await leftWith({ unwell: ['none'], 'footColour@left': 'usual' });
  show(<CheckScreen />);
  await waitFor(() => expect(title()).toBe(t('check:unwell.ask')));
  expect(written('check')).toMatchObject([
    { id: 'left-1', at: MONDAY_EVENING, day: '2031-03-03', person: { unwell: ['none'] }, judgement: { level: 'unfinished' } },
  ]);
  expect(written('alert')).toEqual([]);
  expect(notebook.state.checkDraft).toBeUndefined();
  expect(screen.queryAllByRole('checkbox', { checked: true })).toEqual([]);
});

test('what its answers call for is told now, once', async () => {
  const { show, notebook, written } = await leftWith({ unwell: ['none'], 'pain@left': 'severe' });
  show(<CheckScreen />);
  await waitFor(() => expect(location.hash).toBe(`#/alert/${written('alert')[0]?.id}`));
  expect(written('alert')).toMatchObject([{ level: 'callNow', from: 'left-1', day: '2031-03-04' }]);
  expect(written('alert')[0]?.fired.map((r) => r.rule)).toContain('pain-severe');
  await waitFor(() => expect(notebook.state.checkDraft).toBeUndefined());
});

test('what was told before it was left is not told a second time', async () => {
  const { show, notebook, written, device } = await stage({ time: '2031-03-04T02:00:00Z' });
  await notebook.saveCheckDraft({ id: 'left-1', startedAt: MONDAY_EVENING, at: 'unwell', answers: { unwell: ['vomiting'] } });
  show(<CheckScreen />);
  screen.getByRole('button', { name: t('common:next') }).click();
  await waitFor(() => expect(written('alert')).toHaveLength(1));
  await notebook.append([{ ...notebook.stamp('o1'), kind: 'outcome', alerts: [written('alert')[0]?.id ?? ''], what: 'reached' }]);
  cleanup();
  device.setClock('2031-03-04T15:00:00Z');
  show(<CheckScreen />);
  await waitFor(() => expect(title()).toBe(t('check:unwell.ask')));
  await waitFor(() => expect(written('check')).toHaveLength(1));
  expect(written('alert')).toHaveLength(1);
});

test('one without an answer is let go', async () => {
  const { show, notebook, written } = await leftWith({ unwell: undefined });
  show(<CheckScreen />);
  await waitFor(() => expect(notebook.state.checkDraft).toBeUndefined());
  expect(written('check')).toEqual([]);
});

test('on a full phone nothing is lost: it says so, and can be tried again', async () => {
  const { show, user, notebook, written } = await leftWith(mildItems());
  vi.spyOn(notebook, 'append').mockRejectedValueOnce(new DOMException('full', 'QuotaExceededError'));
  show(<CheckScreen />);
  expect((await screen.findByRole('alert')).textContent).toBe(t('common:notSaved'));
  expect(notebook.state.checkDraft?.id).toBe('left-1');
  await user.click(screen.getByRole('button', { name: t('check:oldWrite') }));
  await waitFor(() => expect(written('check')).toHaveLength(1));
});

// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from '@testing-library/preact';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { checkItems } from '../../app/care/check/items.ts';
import type { CheckRecord } from '../../app/care/log/records.ts';
import { CheckScreen } from '../../app/screens/check/check.tsx';
import { CheckedScreen } from '../../app/screens/check/checked.tsx';
import { t } from '../../app/words/i18n.ts';
import { alert, check } from '../care/log/make.ts';
import { demoPlan, twoWoundPlan } from '../care/plan/plans.ts';
import { mildItems, type Stage, stage } from './stage.tsx';

afterEach(cleanup);

const title = (): string | null => screen.getByRole('heading', { level: 1 }).textContent;
const next = (): HTMLElement => screen.getByRole('button', { name: t('common:next') });
const choose = (key: string): HTMLElement => screen.getByLabelText(t(key));
const askOf = (id: string): string => t(`check:${id}.ask`);

/** A check whose answers so far are the mildest, and these; the screen stands at one question. */
async function checkAt(at: string, answers: Record<string, unknown> = {}, options: Parameters<typeof stage>[0] = {}): Promise<Stage> {
  const all = await stage(options);
  await all.notebook.saveCheckDraft({
    id: 'check-1',
    startedAt: '2031-03-04T15:00:00Z',
    at,
    answers: { ...mildItems(options?.plan), ...answers },
  });
  all.show(<CheckScreen />);
  return all;
}
const LAST = checkItems(demoPlan()).at(-1)?.key as string;

describe('the daily check', () => {
  test('begins with the first question and says how many there are', async () => {
    const { show } = await stage();
    show(<CheckScreen />);
    const items = checkItems(demoPlan());
    expect(title()).toBe(askOf(items[0]?.question.id ?? ''));
    expect(screen.getByText(t('common:progress', { at: '1', of: String(items.length) }))).toBeTruthy();
  });

  test('without an answer it does not go on, and says so', async () => {
    const { show, user } = await stage();
    show(<CheckScreen />);
    await user.click(next());
    expect(title()).toBe(askOf('unwell'));
    expect(screen.getByRole('alert').textContent).toBe(t('check:chooseAll'));
    await user.click(choose('check:unwell.code.none'));
    expect(screen.queryByRole('alert')).toBeNull();
    await user.click(next());
    expect(title()).toBe(askOf('temperature'));
  });

  test('a complaint about the number is over once the person has no thermometer, and a new one can come', async () => {
    const { user } = await checkAt('temperature', { temperature: undefined });
    const complaints = (texts: string[]) =>
      waitFor(() => expect(screen.queryAllByRole('alert').map((alert) => alert.textContent)).toEqual(texts));
    await user.click(next());
    await complaints([t('check:temperature.type')]);
    await user.click(screen.getByRole('button', { name: t('check:temperature.haveNone') }));
    await complaints([]);
    await user.click(next());
    await complaints([t('check:chooseOne')]);
    await user.click(screen.getByRole('button', { name: t('check:temperature.haveOne') }));
    await complaints([]);
  });

  test('without a thermometer the page asks how the person feels, and says nothing of measuring', async () => {
    const { user } = await checkAt('temperature', { temperature: undefined });
    expect(screen.getByText(t('check:temperature.look'))).toBeTruthy();
    await user.click(screen.getByRole('button', { name: t('check:temperature.haveNone') }));
    expect(title()).toBe(t('check:temperature.feelAsk'));
    expect(screen.getAllByRole('heading')).toHaveLength(1);
    expect(screen.queryByText(t('check:temperature.look'))).toBeNull();
    // Gone and come back, it is still so; and turned round again it is not.
    await user.click(choose('check:temperature.code.no'));
    await user.click(next());
    expect(title()).toBe(askOf('footColour'));
    await user.click(screen.getByRole('button', { name: t('common:back') }));
    expect(title()).toBe(t('check:temperature.feelAsk'));
    await user.click(screen.getByRole('button', { name: t('check:temperature.haveOne') }));
    expect(title()).toBe(askOf('temperature'));
  });

  test('a note is asked for once to the eye, and has its name for who listens', async () => {
    await checkAt(LAST);
    expect(screen.getByRole('textbox', { name: t('check:note.ask') })).toBeTruthy();
    expect(screen.getByText(t('check:note.ask'), { selector: 'label' }).className).toBe('unseen');
  });

  test('every answer is stored at once, so that a closed app loses nothing', async () => {
    const { show, user, notebook } = await stage();
    show(<CheckScreen />);
    await user.click(choose('check:unwell.code.none'));
    await waitFor(async () => {
      await notebook.reload();
      expect(notebook.state.checkDraft?.answers).toEqual({ unwell: ['none'] });
    });
    expect(notebook.state.checkDraft?.id).not.toBe('');
  });

  test('begun again, it stands at the question it was left at, the answer chosen', async () => {
    await checkAt('pain@left', { 'pain@left': 'usual' });
    expect(title()).toBe(askOf('pain'));
    expect((choose('check:pain.code.usual') as HTMLInputElement).checked).toBe(true);
  });

  test('back goes one question back and keeps the answers', async () => {
    const { user, notebook } = await checkAt('pain@left');
    await user.click(screen.getByRole('button', { name: t('common:back') }));
    expect(title()).toBe(askOf('footColour'));
    expect(notebook.state.checkDraft?.answers['pain@left']).toBe('usual');
  });

  test('a question about one foot or one wound names it', async () => {
    await checkAt('pain@right', {}, { plan: twoWoundPlan() });
    expect(screen.getByText(t('common:foot.right'))).toBeTruthy();
    cleanup();
    await checkAt('dressing@w2', {}, { plan: twoWoundPlan() });
    expect(screen.getByText(t('common:wound.right', { site: t('common:site.littleToe') }))).toBeTruthy();
  });

  test('finished with the mildest answers it is written down once, and raises no alert', async () => {
    const { user, notebook, written } = await checkAt(LAST);
    await user.click(screen.getByRole('button', { name: t('check:finish') }));
    await waitFor(() => expect(location.hash).toBe('#/checked/check-1'));
    expect(written('check')).toMatchObject([
      { id: 'check-1', judgement: { level: 'carryOn', told: 'carryOn' }, person: { unwell: ['none'] } },
    ]);
    expect(written('alert')).toEqual([]);
    expect(notebook.state.checkDraft).toBeUndefined();
  });

  test('finished, the page stays as it is until the next one comes, and shows no new check', async () => {
    const { user, notebook } = await checkAt(LAST);
    const before = title();
    await user.click(screen.getByRole('button', { name: t('check:finish') }));
    await waitFor(() => expect(location.hash).toBe('#/checked/check-1'));
    expect(notebook.state.checkDraft).toBeUndefined();
    expect(title()).toBe(before);
  });

  test('finished with an answer missing it is unfinished, never "carry on"', async () => {
    const { user, written } = await checkAt(LAST, { 'bleeding@w1': undefined });
    await user.click(screen.getByRole('button', { name: t('check:finish') }));
    await waitFor(() => expect(written('check')).toMatchObject([{ judgement: { level: 'unfinished' } }]));
  });

  test('finished with one sign it raises an alert and shows it', async () => {
    const { user, written } = await checkAt(LAST, { 'pain@left': 'more' });
    await user.click(screen.getByRole('button', { name: t('check:finish') }));
    await waitFor(() => expect(written('alert')).toMatchObject([{ level: 'callToday', from: 'check-1', fired: [{ rule: 'one-sign' }] }]));
    await waitFor(() => expect(location.hash).toBe(`#/alert/${written('alert')[0]?.id}`));
  });

  test('the same sign while its alert is still open raises no second one', async () => {
    const { user, written } = await checkAt(LAST, { 'pain@left': 'more' }, { records: [alert('a1', '2031-03-04T14:00')] });
    await user.click(screen.getByRole('button', { name: t('check:finish') }));
    await waitFor(() => expect(location.hash).toBe('#/checked/check-1'));
    expect(written('alert')).toHaveLength(1);
  });

  test('what could not be stored is said, and the check stays', async () => {
    const { user, notebook, written } = await checkAt(LAST);
    vi.spyOn(notebook, 'append').mockRejectedValueOnce(new DOMException('full', 'QuotaExceededError'));
    await user.click(screen.getByRole('button', { name: t('check:finish') }));
    expect((await screen.findByRole('alert')).textContent).toBe(t('common:notSaved'));
    expect(written('check')).toEqual([]);
    await user.click(screen.getByRole('button', { name: t('check:finish') }));
    await waitFor(() => expect(written('check')).toHaveLength(1));
  });
});

describe('after a check that asks for no call', () => {
  const CALM = { level: 'carryOn', told: 'carryOn', fired: [], quieted: [] } as const;

  test('a note that the app cannot read is not passed over', async () => {
    const note = { unwell: ['none'], note: 'My toe looks odd.' } as CheckRecord['person'];
    const made = check('c1', '2031-03-04T14:00', { person: note, judgement: { ...CALM, fired: [], quieted: [] } });
    const { show } = await stage({ records: [made, check('c2', '2031-03-04T14:30')] });
    show(<CheckedScreen id="c1" />);
    expect(screen.getByText(t('check:noteUnread'))).toBeTruthy();
    show(<CheckedScreen id="c2" />);
    expect(screen.queryByText(t('check:noteUnread'))).toBeNull();
  });

  test('the way to who can be called is there', async () => {
    const { show } = await stage({ records: [check('c1', '2031-03-04T14:00')] });
    show(<CheckedScreen id="c1" />);
    expect(screen.getByRole('link', { name: t('today:whomToCall') }).getAttribute('href')).toBe('#/help');
  });
});

describe('an answer that is an emergency', () => {
  test('ends the check at once: the alert is written and shown, the other questions wait', async () => {
    const { show, user, written, notebook } = await stage();
    show(<CheckScreen />);
    await user.click(choose('check:unwell.code.confusedOrDrowsy'));
    await user.click(next());
    await waitFor(() => expect(written('alert')).toMatchObject([{ level: 'emergency', told: 'emergency' }]));
    await waitFor(() => expect(location.hash).toBe(`#/alert/${written('alert')[0]?.id}`));
    expect(written('check')).toMatchObject([{ person: { unwell: ['confusedOrDrowsy'] }, judgement: { level: 'emergency' } }]);
    expect(notebook.state.checkDraft).toBeUndefined();
  });

  test('that comes about only with an earlier answer ends it too', async () => {
    const { user, written } = await checkAt('pain@left', { 'footColour@left': 'paleOrBlue' });
    await user.click(choose('check:pain.code.severe'));
    await user.click(next());
    await waitFor(() => expect(written('alert')).toMatchObject([{ told: 'emergency' }]));
  });

  test('already told and still open does not end the next check: the rest can be answered', async () => {
    const fired = [{ rule: 'sepsis-sign', level: 'emergency' as const, findings: ['unwell:faint'] }];
    const { show, user, written } = await stage({
      records: [alert('a1', '2031-03-04T14:50', { level: 'emergency', told: 'emergency', fired })],
    });
    show(<CheckScreen />);
    await user.click(choose('check:unwell.code.faint'));
    await user.click(next());
    expect(title()).toBe(askOf('temperature'));
    expect(written('alert')).toHaveLength(1);
  });
});

describe('an answer that needs a call now', () => {
  const gone = () => waitFor(() => expect(title()).toBe(askOf('unwell')));

  const vomiting = async () => {
    const all = await stage();
    all.show(<CheckScreen />);
    await all.user.click(choose('check:unwell.code.vomiting'));
    await all.user.click(next());
    await waitFor(() => expect(title()).toBe(t('alert:title.callNow')));
    return all;
  };

  test('is an alert from then on: an app closed there still says so, and opened again it stands at the same page', async () => {
    const { written, notebook, show } = await vomiting();
    expect(written('alert')).toMatchObject([{ level: 'callNow', fired: [{ rule: 'keeps-vomiting' }] }]);
    await notebook.reload();
    show(<CheckScreen />);
    expect(title()).toBe(t('alert:title.callNow'));
    expect(notebook.openAlerts()).toHaveLength(1);
  });

  test('as a slip of the finger it is withdrawn, asked again, and raised again when it was none', async () => {
    const { written, notebook, user } = await vomiting();
    await user.click(screen.getByRole('button', { name: t('alert:wrongAnswer') }));
    await gone();
    expect(notebook.openAlerts()).toEqual([]);
    expect(written('void')).toMatchObject([{ target: written('alert')[0]?.id, why: t('alert:wrongAnswer') }]);
    await user.click(next());
    await waitFor(() => expect(title()).toBe(t('alert:title.callNow')));
    expect(notebook.openAlerts()).toHaveLength(1);
    expect(written('alert')).toHaveLength(2);
  });

  test('that could not be stored is said, and not passed over', async () => {
    const all = await stage();
    all.show(<CheckScreen />);
    await all.user.click(choose('check:unwell.code.vomiting'));
    vi.spyOn(all.notebook, 'append').mockRejectedValueOnce(new DOMException('full', 'QuotaExceededError'));
    await all.user.click(next());
    expect((await screen.findByRole('alert')).textContent).toBe(t('common:notSaved'));
    expect(title()).toBe(askOf('unwell'));
  });

  test('with the rest answered and nothing new it is still one alert, and the check ends at it', async () => {
    const { written, notebook, user, show } = await vomiting();
    await user.click(screen.getByRole('button', { name: t('check:answerRest') }));
    const draft = notebook.state.checkDraft as NonNullable<typeof notebook.state.checkDraft>;
    await notebook.saveCheckDraft({ ...draft, at: LAST, answers: { ...mildItems(), unwell: ['vomiting'] } });
    show(<CheckScreen />);
    await user.click(screen.getByRole('button', { name: t('check:finish') }));
    await waitFor(() => expect(location.hash).toBe(`#/alert/${written('alert')[0]?.id}`));
    expect(written('alert')).toHaveLength(1);
    expect(written('check')).toHaveLength(1);
  });

  test('with the rest answered and another reason to call, that reason is told too', async () => {
    const { written, notebook, user, show } = await vomiting();
    await user.click(screen.getByRole('button', { name: t('check:answerRest') }));
    const draft = notebook.state.checkDraft as NonNullable<typeof notebook.state.checkDraft>;
    await notebook.saveCheckDraft({ ...draft, at: LAST, answers: { ...mildItems(), unwell: ['vomiting'], 'pain@left': 'severe' } });
    show(<CheckScreen />);
    await user.click(screen.getByRole('button', { name: t('check:finish') }));
    await waitFor(() => expect(written('alert')).toHaveLength(2));
    expect(written('alert')[1]?.fired.map((r) => r.rule)).toContain('pain-severe');
    await waitFor(() => expect(location.hash).toBe(`#/alert/${written('alert')[1]?.id}`));
  });

  test('answered by the clinic meanwhile, the same check does not raise it a second time', async () => {
    const { written, notebook, user, show } = await vomiting();
    await notebook.append([{ ...notebook.stamp('o1'), kind: 'outcome', alerts: [written('alert')[0]?.id ?? ''], what: 'reached' }]);
    show(<CheckScreen />);
    expect(title()).toBe(askOf('unwell'));
    await user.click(next());
    expect(title()).toBe(askOf('temperature'));
    expect(written('alert')).toHaveLength(1);
  });

  test('offers to stop and call, and says why', async () => {
    await vomiting();
    expect(title()).toBe(t('alert:title.callNow'));
    expect(screen.getByText(t('rules:keeps-vomiting.plain'))).toBeTruthy();
    expect(screen.getByRole('button', { name: t('check:stopAndCall') })).toBeTruthy();
  });

  test('stopped there, the alert is written and shown', async () => {
    const { user, written } = await vomiting();
    await user.click(screen.getByRole('button', { name: t('check:stopAndCall') }));
    await waitFor(() => expect(written('alert')).toMatchObject([{ level: 'callNow', fired: [{ rule: 'keeps-vomiting' }] }]));
    await waitFor(() => expect(location.hash).toBe(`#/alert/${written('alert')[0]?.id}`));
  });

  test('answered on, it does not offer again for the same, and the alert comes at the end', async () => {
    const { user, written, notebook } = await checkAt(LAST, { unwell: ['vomiting'] });
    await notebook.saveCheckDraft({ ...(notebook.state.checkDraft as NonNullable<typeof notebook.state.checkDraft>), told: 'callNow' });
    await user.click(screen.getByRole('button', { name: t('check:finish') }));
    await waitFor(() => expect(written('alert')).toMatchObject([{ level: 'callNow' }]));
  });

  test('answered on, the next question follows and the offer is remembered', async () => {
    const { user, notebook } = await vomiting();
    await user.click(screen.getByRole('button', { name: t('check:answerRest') }));
    expect(title()).toBe(askOf('temperature'));
    expect(notebook.state.checkDraft?.told).toBe('callNow');
  });

  test('an emergency after that still ends the check at once', async () => {
    const { user, notebook, written } = await checkAt('footColour@left', { unwell: ['vomiting'] });
    await notebook.saveCheckDraft({ ...(notebook.state.checkDraft as NonNullable<typeof notebook.state.checkDraft>), told: 'callNow' });
    await user.click(screen.getByLabelText(new RegExp(`^${t('check:footColour.code.paleOrBlueAndCold')}`)));
    await user.click(next());
    await waitFor(() => expect(written('alert')).toMatchObject([{ told: 'emergency' }]));
  });
});

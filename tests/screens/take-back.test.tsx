// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from '@testing-library/preact';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { stepsToLook } from '../../app/care/change/sequence.ts';
import type { Judgement } from '../../app/care/log/records.ts';
import { AlertScreen } from '../../app/screens/alert/alert.tsx';
import { CheckScreen } from '../../app/screens/check/check.tsx';
import { alertFor } from '../../app/screens/sitting.ts';
import { t } from '../../app/words/i18n.ts';
import { alert, check, outcome } from '../care/log/make.ts';
import { mildItems, type Stage, stage } from './stage.tsx';

afterEach(cleanup);

const GRAVE: Judgement = {
  level: 'callNow',
  told: 'callNow',
  fired: [{ rule: 'redness-streaks', level: 'callNow', findings: ['redness:streaks'] }],
  quieted: [],
};

describe('a grave answer that was taken back as a slip', () => {
  test('raises its alert again when it is given again, and again after that', async () => {
    const { notebook } = await stage();
    for (let slips = 0; slips < 3; slips++) {
      const alert = alertFor(notebook, GRAVE, 'change-1');
      await notebook.append(alert ? [alert] : []);
      expect(notebook.openAlerts().map((a) => a.from)).toEqual(['change-1']);
      const target = notebook.openAlerts()[0]?.id ?? '';
      await notebook.append([{ ...notebook.stamp(), kind: 'void', target }]);
      expect(notebook.openAlerts()).toEqual([]);
    }
  });

  test('told in two tabs at once it is still one alert', async () => {
    const { notebook } = await stage();
    const twice = [alertFor(notebook, GRAVE, 'change-1'), alertFor(notebook, GRAVE, 'change-1')].flatMap((a) => (a ? [a] : []));
    for (const alert of twice) await notebook.append([alert]);
    expect(notebook.openAlerts()).toHaveLength(1);
  });
});

describe('an emergency that a slip of the finger in a check brought about', () => {
  const wrong = () => screen.queryByRole('button', { name: t('alert:wrongAnswer') });

  /** A check cut short by a foot said to be pale and cold; its alert is on screen. */
  async function cutShort(): Promise<Stage> {
    const all = await stage();
    const { 'footColour@left': _colour, ...rest } = mildItems();
    const answers = { unwell: rest.unwell, temperature: rest.temperature, 'footColour@left': 'paleOrBlueAndCold' };
    await all.notebook.saveCheckDraft({ id: 'check-1', startedAt: '2031-03-04T14:59:00Z', at: 'footColour@left', answers });
    all.show(<CheckScreen />);
    await all.user.click(screen.getByRole('button', { name: t('common:next') }));
    await waitFor(() => expect(location.hash).toMatch(/^#\/alert\//));
    all.show(<AlertScreen id={all.written('alert')[0]?.id ?? ''} />);
    return all;
  }

  test('is taken back on its page: alert and check are withdrawn, and the question is asked again with the other answers kept', async () => {
    const { user, notebook, written, show } = await cutShort();
    await user.click(wrong() as HTMLElement);
    await waitFor(() => expect(location.hash).toBe('#/check'));
    expect(notebook.openAlerts()).toEqual([]);
    expect(written('void').map((v) => v.target)).toEqual([written('alert')[0]?.id, 'check-1']);
    const draft = notebook.state.checkDraft;
    expect(draft).toMatchObject({ at: 'footColour@left', answers: { unwell: ['none'] } });
    expect(draft?.answers['footColour@left']).toBeUndefined();
    show(<CheckScreen />);
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('check:footColour.ask'));
    // What is said again is told again.
    await user.click(screen.getByLabelText(new RegExp(`^${t('check:footColour.code.paleOrBlueAndCold')}`)));
    await user.click(screen.getByRole('button', { name: t('common:next') }));
    await waitFor(() => expect(notebook.openAlerts()).toHaveLength(1));
    await waitFor(() => expect(location.hash).toMatch(/^#\/alert\//));
  });

  test('as is a call now, after "stop here and call"', async () => {
    const { notebook, user, show, written } = await stage();
    show(<CheckScreen />);
    await user.click(screen.getByLabelText(t('check:unwell.code.vomiting')));
    await user.click(screen.getByRole('button', { name: t('common:next') }));
    await user.click(await screen.findByRole('button', { name: t('check:stopAndCall') }));
    const id = written('alert')[0]?.id ?? '';
    await waitFor(() => expect(location.hash).toBe(`#/alert/${id}`));
    show(<AlertScreen id={id} />);
    await user.click(wrong() as HTMLElement);
    await waitFor(() => expect(location.hash).toBe('#/check'));
    expect(notebook.openAlerts()).toEqual([]);
    expect(notebook.state.checkDraft).toMatchObject({ at: 'unwell', answers: {} });
    expect(notebook.state.checkDraft?.id).not.toBe(written('check')[0]?.id);
  });

  test('stays when the withdrawal cannot be stored, and says so', async () => {
    const { user, notebook } = await cutShort();
    vi.spyOn(notebook, 'append').mockRejectedValueOnce(new DOMException('full', 'QuotaExceededError'));
    await user.click(wrong() as HTMLElement);
    expect((await screen.findByRole('alert')).textContent).toBe(t('common:notSaved'));
    expect(notebook.openAlerts()).toHaveLength(1);
  });

  test('is no slip any more after ten minutes, after a call, or once a new check has begun', async () => {
    const { notebook, device, show } = await cutShort();
    const id = notebook.openAlerts()[0]?.id ?? '';
    const shown = () => {
      show(<AlertScreen id={id} />);
      return wrong();
    };
    expect(shown()).not.toBeNull();
    device.setClock('2031-03-04T15:10:30Z');
    expect(shown()).toBeNull();
    device.setClock('2031-03-04T15:05:00Z');
    await notebook.saveCheckDraft({ id: 'check-2', startedAt: '2031-03-04T15:04:00Z', answers: {} });
    expect(shown()).toBeNull();
    await notebook.dropDraftOf('check');
    expect(shown()).not.toBeNull();
    await notebook.append([outcome('o1', [id], 'couldNotReach', '2031-03-04T15:04')]);
    expect(shown()).toBeNull();
  });

  test('an alert of a check that was corrected or came from another phone long ago cannot be taken back so', async () => {
    const made = check('c1', '2031-03-04T14:58');
    const { show } = await stage({ records: [made, { ...made, id: 'c2', amends: 'c1' }, alert('a1', '2031-03-04T14:58')] });
    show(<AlertScreen id="a1" />);
    expect(wrong()).toBeNull();
  });
});

test('the alert of a change that is still at its look is taken back on its own page too', async () => {
  const { notebook, show, user } = await stage();
  const wound = notebook.state.book?.plan.wounds[0];
  if (!wound) throw new Error('the demo plan has a wound');
  const position = stepsToLook(wound).length - 1;
  const begun = {
    id: 'change-1',
    startedAt: '2031-03-04T14:50:00Z',
    wound: wound.id,
    position,
    look: 4,
    asked: 4,
    gathered: [],
    states: {},
  };
  const raised = alertFor(notebook, GRAVE, 'change-1');
  await notebook.append(raised ? [raised] : []);
  await notebook.saveChangeDraft({ ...begun, answers: { redness: 'streaks' }, interrupted: true, alert: raised?.id });
  show(<AlertScreen id={raised?.id ?? ''} />);
  await user.click(screen.getByRole('button', { name: t('alert:wrongAnswer') }));
  await waitFor(() => expect(location.hash).toBe('#/change'));
  expect(notebook.openAlerts()).toEqual([]);
  expect(notebook.state.changeDraft).toMatchObject({ position, look: 4, answers: { redness: 'streaks' } });
  expect(notebook.state.changeDraft?.interrupted).toBeUndefined();
});

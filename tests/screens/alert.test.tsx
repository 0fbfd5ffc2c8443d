// @vitest-environment happy-dom
import { cleanup, screen, waitFor, within } from '@testing-library/preact';
import { afterEach, describe, expect, test, vi } from 'vitest';
import type { AlertRecord, LogRecord } from '../../app/care/log/records.ts';
import { AlertScreen } from '../../app/screens/alert/alert.tsx';
import { TodayScreen } from '../../app/screens/today/today.tsx';
import { formatTime } from '../../app/words/format.ts';
import { t } from '../../app/words/i18n.ts';
import { alert, check, outcome } from '../care/log/make.ts';
import { demoPlan, mustRead } from '../care/plan/plans.ts';
import { SATURDAY, type Stage, stage } from './stage.tsx';

afterEach(cleanup);

const title = (): string | null => screen.getByRole('heading', { level: 1 }).textContent;
const numbers = (): (string | null)[] =>
  screen
    .queryAllByRole('link')
    .map((a) => a.getAttribute('href'))
    .filter((href) => href?.startsWith('tel:') ?? false);
const button = (key: string): HTMLElement => screen.getByRole('button', { name: t(key) });

const withoutNightPhone = () => {
  const plan = demoPlan();
  const { outOfHoursPhone: _none, ...clinic } = plan.clinic;
  return mustRead({ ...plan, clinic });
};

/** An alert of a few minutes ago, on screen. */
async function alertOf(level: AlertRecord['level'], options: Parameters<typeof stage>[0] = {}, more: LogRecord[] = []): Promise<Stage> {
  const at = (options?.time ?? '2031-03-04T14:55').slice(0, 16).replace('15:00', '14:55');
  const fired = [{ rule: level === 'callToday' ? 'one-sign' : 'pain-severe', level, findings: ['pain:severe'] }];
  const seen = check('c1', at, { feet: { left: { pain: 'severe', swelling: 'usual' } } });
  const all = await stage({ ...options, records: [seen, alert('a1', at, { level, told: level, fired }), ...more] });
  all.show(<AlertScreen id="a1" />);
  return all;
}

describe('what to say on the phone', () => {
  const say = () => within(screen.getByRole('heading', { name: t('alert:say') }).closest('section') as HTMLElement);

  test('stands once where the plan is in the language of the app', async () => {
    await alertOf('callNow');
    expect(say().getAllByRole('list')).toHaveLength(1);
  });

  test('stands in the language of the clinic too, and begins with the interpreter', async () => {
    const plan = demoPlan();
    await alertOf('callNow', { plan: mustRead({ ...plan, person: { ...plan.person, language: 'es-MX' } }) });
    const theirs = within((await say().findByRole('heading', { name: 'Español' })).parentElement as HTMLElement);
    const lines = theirs.getAllByRole('listitem').map((li) => li.textContent);
    expect(lines[0]).toBe('Necesito un intérprete: inglés.');
    expect(lines.length).toBe(say().getAllByRole('listitem').length / 2 + 0.5);
    expect(lines.join(' ')).toContain('Nela');
  });
});

describe('an alert says what to do, and whom to call at this hour', () => {
  test.each(['callToday', 'callNow'] as const)('%s in opening hours: the clinic', async (level) => {
    await alertOf(level);
    expect(title()).toBe(t(`alert:title.${level}`));
    expect(numbers()).toEqual(['tel:+13125550142']);
  });

  test('an emergency: the plan’s emergency number, or the local one', async () => {
    await alertOf('emergency');
    expect(title()).toBe(t('alert:title.emergency'));
    expect(numbers()).toEqual(['tel:911']);
    expect(screen.getByText(t('alert:orLocal'))).toBeTruthy();
  });

  test('when the clinic is closed: its out-of-hours phone', async () => {
    await alertOf('callNow', { time: SATURDAY });
    expect(numbers()).toEqual(['tel:+13125550187']);
  });

  test('when nobody answers any phone: the emergency department', async () => {
    await alertOf('callNow', { time: SATURDAY, plan: withoutNightPhone() });
    expect(numbers()).toEqual([]);
    expect(screen.getByText(t('alert:department'))).toBeTruthy();
  });

  test('why: every rule in words; and what to say: who, which wound, what was found', async () => {
    await alertOf('callNow');
    expect(screen.getByText(t('rules:pain-severe.plain'))).toBeTruthy();
    expect(screen.getByText(t('alert:sayWho', { name: 'Nela', count: 1 }))).toBeTruthy();
    const pain = t('check:line', { question: t('check:pain.short'), answer: t('check:pain.said.severe') });
    expect(screen.getByText(pain)).toBeTruthy();
    // What is as usual need not be read out.
    expect(document.body.textContent).not.toContain(
      t('check:line', { question: t('check:swelling.short'), answer: t('check:swelling.said.usual') }),
    );
  });

  test('an alert that is not here says so, and leads back', async () => {
    const { show, user } = await stage();
    show(<AlertScreen id="nowhere" />);
    expect(title()).toBe(t('alert:gone'));
    await user.click(button('common:back'));
    expect(location.hash).toBe('#/today');
  });

  test('left open for a day, a call today has become a call now', async () => {
    const { show } = await stage({ records: [alert('a1', '2031-03-03T14:00')] });
    show(<AlertScreen id="a1" />);
    expect(title()).toBe(t('alert:title.callNow'));
    expect(screen.getByText(t('rules:unresolved.plain'))).toBeTruthy();
  });
});

describe('what came of it', () => {
  test.each(['reached', 'wentToHospital'] as const)('%s closes the alert and keeps what they said', async (what) => {
    const { user, written, notebook, show } = await alertOf('callNow');
    await user.click(button(`alert:outcome.${what}`));
    await user.type(screen.getByRole('textbox', { name: t(`alert:tellField.${what}`) }), 'Come at <3> pm.');
    await user.click(button('common:save'));
    await waitFor(() => expect(location.hash).toBe('#/today'));
    expect(written('outcome')).toMatchObject([{ alerts: ['a1'], what, said: 'Come at <3> pm.' }]);
    expect(notebook.openAlerts()).toEqual([]);
    show(<AlertScreen id="a1" />);
    expect(title()).toBe(t('alert:closedTitle'));
    expect(screen.getByText('Come at <3> pm.')).toBeTruthy();
    expect(numbers()).toEqual([]);
  });

  test('nothing need be written down', async () => {
    const { user, written } = await alertOf('callToday');
    await user.click(button('alert:outcome.reached'));
    await user.click(button('common:save'));
    await waitFor(() => expect(written('outcome')).toHaveLength(1));
    expect(written('outcome')[0]).not.toHaveProperty('said');
  });

  test('one call closes every alert that waits', async () => {
    const { user, notebook } = await alertOf('callNow', {}, [alert('a2', '2031-03-04T14:00')]);
    await user.click(button('alert:outcome.reached'));
    await user.click(button('common:save'));
    await waitFor(() => expect(notebook.openAlerts()).toEqual([]));
  });

  const noOneAnswered = async (user: Stage['user']) => {
    await user.click(button('alert:outcome.couldNotReach'));
    // The number is there for another try, before anything is written down.
    expect(numbers()).toHaveLength(1);
    expect(screen.getByRole('link', { name: new RegExp(t('alert:callAgain')) })).toBeTruthy();
  };

  test('a call now: one rule from first to last, half an hour with its time of day, then an emergency department', async () => {
    // Raised at 8:55 in Chicago, now nine.
    const { user, notebook, device, show } = await alertOf('callNow');
    const time = formatTime('2031-03-04T15:25:00Z', 'America/Chicago');
    expect(time).toMatch(/^9:25/);
    expect(screen.getByText(t('alert:leadBy', { time }))).toBeTruthy();
    await noOneAnswered(user);
    expect(screen.getByText(t('alert:noAnswerBy', { time }))).toBeTruthy();
    await user.click(button('common:save'));
    await screen.findByText(t('alert:soFar'));
    expect(title()).toBe(t('alert:title.callNow'));
    expect(screen.getByText(t('alert:noAnswerBy', { time }))).toBeTruthy();
    expect(notebook.openAlerts().map((a) => a.id)).toEqual(['a1']);
    device.setClock('2031-03-04T15:25:00Z');
    show(<AlertScreen id="a1" />);
    expect(title()).toBe(t('alert:departmentTitle'));
    expect(screen.getByText(t('alert:noAnswer'))).toBeTruthy();
    // The numbers stay within reach for another try.
    expect(numbers()).toHaveLength(1);
  });

  test('a call now of which nothing is written down for half an hour: an emergency department, and no word of calling first', async () => {
    const { device, show } = await alertOf('callNow');
    device.setClock('2031-03-04T15:25:00Z');
    show(<AlertScreen id="a1" />);
    expect(title()).toBe(t('alert:departmentTitle'));
    show(<TodayScreen />);
    expect(await screen.findByRole('link', { name: new RegExp(t('alert:departmentTitle')) })).toBeTruthy();
  });

  test('a call now dated ahead by a wrong clock may have waited for long: an emergency department', async () => {
    const { show } = await stage({ records: [alert('a1', '2032-03-04T14:55', { level: 'callNow', told: 'callNow' })] });
    show(<AlertScreen id="a1" />);
    expect(title()).toBe(t('alert:departmentTitle'));
  });

  test('an emergency that nobody answered stays one: call the same number again, then an emergency department', async () => {
    const { user, notebook } = await alertOf('emergency');
    const words = t('alert:noAnswerEmergency', { phone: '911' });
    await noOneAnswered(user);
    expect(screen.getByText(words)).toBeTruthy();
    await user.click(button('common:save'));
    await screen.findByText(t('alert:soFar'));
    expect(title()).toBe(t('alert:title.emergency'));
    expect(screen.getByText(words)).toBeTruthy();
    expect(numbers()).toEqual(['tel:911']);
    expect(notebook.openAlerts().map((a) => a.id)).toEqual(['a1']);
  });

  test('the clinic was reached and no word of theirs is written down: that is said, and can be made good', async () => {
    const { user, written, show, notebook } = await alertOf('callNow', {}, [outcome('o1', ['a1'], 'reached', '2031-03-04T14:58')]);
    expect(screen.getByText(t('alert:closedBare'))).toBeTruthy();
    await user.click(button('alert:adviceWrite'));
    await user.type(screen.getByRole('textbox', { name: t('alert:tellField.reached') }), 'Come at nine.');
    await user.click(button('common:save'));
    await waitFor(() => expect(written('outcome')).toHaveLength(2));
    expect(written('outcome')[1]).toMatchObject({ amends: 'o1', alerts: ['a1'], what: 'reached', said: 'Come at nine.' });
    expect(notebook.openAlerts()).toEqual([]);
    show(<AlertScreen id="a1" />);
    expect(screen.getByText(t('alert:closedText'))).toBeTruthy();
    expect(screen.queryByRole('button', { name: t('alert:adviceWrite') })).toBeNull();
  });

  test('a call today that nobody answered stays open too', async () => {
    const { user, notebook } = await alertOf('callToday');
    await user.click(button('alert:outcome.couldNotReach'));
    await user.click(button('common:save'));
    await waitFor(() => expect(screen.getByText(t('alert:soFar'))).toBeTruthy());
    expect(notebook.openAlerts().map((a) => a.id)).toEqual(['a1']);
    expect(title()).toBe(t('alert:title.callToday'));
  });

  test('going back writes nothing', async () => {
    const { user, written } = await alertOf('callNow');
    await user.click(button('alert:outcome.reached'));
    await user.click(button('common:back'));
    expect(title()).toBe(t('alert:title.callNow'));
    expect(written('outcome')).toEqual([]);
  });

  test('what could not be stored is said, and the alert stays open', async () => {
    const { user, notebook } = await alertOf('callNow');
    vi.spyOn(notebook, 'append').mockRejectedValueOnce(new DOMException('full', 'QuotaExceededError'));
    await user.click(button('alert:outcome.reached'));
    await user.click(button('common:save'));
    expect((await screen.findByRole('alert')).textContent).toBe(t('common:notSaved'));
    expect(notebook.openAlerts()).toHaveLength(1);
  });

  test('written down on another phone, it closes here as soon as the logs are merged', async () => {
    const { notebook } = await alertOf('callNow');
    await notebook.append([
      outcome('o-other', ['a1'], 'reached', '2031-03-04T14:58', { device: 'phone-2', by: { who: 'caregiver', name: 'Ana' } }),
    ]);
    await screen.findByRole('heading', { level: 1, name: t('alert:closedTitle') });
  });
});

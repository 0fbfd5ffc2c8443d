// @vitest-environment happy-dom

import { cleanup, fireEvent, screen, within } from '@testing-library/preact';
import { afterEach, describe, expect, test, vi } from 'vitest';
import type { LogRecord } from '../../app/care/log/records.ts';
import { App } from '../../app/screens/app.tsx';
import { NoteScreen } from '../../app/screens/log/correct.tsx';
import { LogScreen } from '../../app/screens/log/log.tsx';
import { TodayScreen } from '../../app/screens/today/today.tsx';
import { VisitScreen } from '../../app/screens/visit/visit.tsx';
import { acceptPlan } from '../../app/store/accept-plan.ts';
import { t } from '../../app/words/i18n.ts';
import { check, note, stamp } from '../care/log/make.ts';
import { demoPlan, mustRead } from '../care/plan/plans.ts';
import { type Stage, stage } from './stage.tsx';

afterEach(cleanup);

let people = 0;
/** A phone with a book that no test before has shown: what is shown is kept per book. */
function phone(records: LogRecord[] = [], time = '2031-03-18T15:00:00Z'): Promise<Stage> {
  const plan = demoPlan();
  return stage({ plan: mustRead({ ...plan, person: { ...plan.person, id: `visitor-${++people}` } }), records, time });
}
const button = (key: string, values = {}): HTMLElement => screen.getByRole('button', { name: t(key, values) });
const sheet = (): Promise<HTMLElement> =>
  vi.waitFor(() => {
    const found = document.querySelector<HTMLElement>('.visit-sheet');
    if (!found) throw new Error('not yet');
    return found;
  });
const wait = (ms: number) => new Promise((done) => setTimeout(done, ms));
const visitOn = (day: string): LogRecord => ({ ...stamp(`visit-${day}`, `${day}T10:00`), kind: 'visit' });

describe('the page', () => {
  test('is one step from the first screen and from the log', async () => {
    const { show } = await phone();
    show(<TodayScreen />);
    expect(screen.getByRole('link', { name: t('today:visit') }).getAttribute('href')).toBe('#/visit');
    show(<LogScreen />);
    expect(screen.getByRole('link', { name: t('log:visit') }).getAttribute('href')).toBe('#/visit');
  });

  test('speaks of the days since the last visit, and of other days when asked', async () => {
    const { show, user } = await phone([visitOn('2031-03-10'), check('c', '2031-02-20T09:00')]);
    show(<VisitScreen />);
    expect((await sheet()).textContent).toContain('Mar 10, 2031 to Mar 18, 2031');
    await user.click(screen.getByText(t('visit:choose.title')));
    await user.click(screen.getByRole('radio', { name: t('visit:choose.twoWeeks') }));
    expect((await sheet()).textContent).toContain('Mar 5, 2031 to Mar 18, 2031 (14 days)');
    await user.click(screen.getByRole('radio', { name: t('visit:choose.threeMonths') }));
    // The log begins only then.
    expect((await sheet()).textContent).toContain('Feb 20, 2031 to Mar 18, 2031');
    expect((await sheet()).textContent).toContain(t('visit:gaps.begins', { day: 'Feb 20, 2031' }));
  });

  test('days the wrong way round are told so, and the page stays as it was', async () => {
    const { show, user } = await phone([visitOn('2031-03-10')]);
    show(<VisitScreen />);
    await sheet();
    await user.click(screen.getByText(t('visit:choose.title')));
    await user.click(screen.getByRole('radio', { name: t('visit:choose.days') }));
    fireEvent.input(screen.getByLabelText(t('visit:choose.to')), { target: { value: '2031-03-01' } });
    expect(screen.getByRole('alert').textContent).toBe(t('visit:choose.wrong'));
    expect((await sheet()).textContent).toContain('Mar 10, 2031 to Mar 18, 2031');
    fireEvent.input(screen.getByLabelText(t('visit:choose.from')), { target: { value: '2031-02-28' } });
    expect(screen.queryByRole('alert')).toBeNull();
    await vi.waitFor(async () => expect((await sheet()).textContent).toContain('Mar 1, 2031'));
  });

  test('stands in a second language when asked, and the choice outlives a step away', async () => {
    const { show, user } = await phone([visitOn('2031-03-10')]);
    show(<VisitScreen />);
    await sheet();
    await user.click(screen.getByText(t('visit:choose.title')));
    await user.click(screen.getByRole('radio', { name: 'Español' }));
    await vi.waitFor(async () => expect((await sheet()).textContent).toContain('Los días de Nela en casa'));
    show(<LogScreen />);
    show(<VisitScreen />);
    await vi.waitFor(async () => expect((await sheet()).textContent).toContain('Los días de Nela en casa'));
  });
});

describe('questions for the visit', () => {
  test('are written from the page and stand at its top', async () => {
    const all = await phone();
    all.show(<NoteScreen forVisit />);
    await all.user.type(screen.getByLabelText(t('log:questionField')), 'May I swim?');
    await all.user.click(button('common:save'));
    await vi.waitFor(() => expect(location.hash).toBe('#/visit'));
    expect(all.written('note')).toMatchObject([{ text: 'May I swim?', forVisit: true }]);
    all.show(<VisitScreen />);
    expect(within(await sheet()).getByText('May I swim?')).toBeTruthy();
  });

  test('a note of the log becomes one by its mark, and only then shows on the page', async () => {
    const all = await phone();
    for (const asks of [false, true]) {
      location.hash = '';
      all.show(<NoteScreen />);
      await all.user.type(screen.getByLabelText(t('log:noteField')), asks ? 'For the clinic' : 'For me');
      if (asks) await all.user.click(screen.getByRole('checkbox', { name: new RegExp(t('log:forVisit')) }));
      await all.user.click(button('common:save'));
      await vi.waitFor(() => expect(all.written('note')).toHaveLength(asks ? 2 : 1));
      // By now what was typed is no longer kept for the next note.
      await vi.waitFor(() => expect(location.hash).toBe('#/log'));
    }
    all.show(<LogScreen />);
    expect(screen.getByText(t('log:kind.question'))).toBeTruthy();
    all.show(<VisitScreen />);
    expect((await sheet()).textContent).toContain('For the clinic');
    expect((await sheet()).textContent).not.toContain('For me');
  });

  test('a corrected question stays one', async () => {
    const all = await phone([note('n', '2031-03-17T09:00', 'May I swin?', { forVisit: true })]);
    const entry = all.notebook.state.entries.find((e) => e.first.id === 'n');
    all.show(<NoteScreen entry={entry as never} />);
    await all.user.type(screen.getByLabelText(t('log:noteField')), ' And bathe?');
    await all.user.click(button('common:save'));
    await vi.waitFor(() => expect(all.written('note').at(-1)).toMatchObject({ amends: 'n', forVisit: true }));
  });
});

describe('“I was at the clinic today”', () => {
  test('is written once, and can be taken back', async () => {
    const all = await phone();
    all.show(<VisitScreen />);
    await sheet();
    await all.user.click(button('visit:was'));
    await screen.findByText(t('visit:wasSaved'));
    expect(all.written('visit')).toMatchObject([{ day: '2031-03-18' }]);
    await all.user.click(button('visit:wasNot'));
    await vi.waitFor(() => expect(button('visit:was')).toBeTruthy());
    expect(all.written('void')).toHaveLength(1);
  });
});

describe('the phone in other hands', () => {
  const handOver = async (all: Stage) => {
    all.show(<App notebook={all.notebook} />);
    location.hash = '#/visit';
    await sheet();
    await all.user.click(button('visit:hand'));
    await screen.findByRole('button', { name: t('visit:back.hold') });
  };

  test('only the page shows: no way back, nothing to write, nothing to choose', async () => {
    const all = await phone([note('q', '2031-03-17T09:00', 'May I swim?', { forVisit: true })]);
    await handOver(all);
    expect((await sheet()).textContent).toContain('May I swim?');
    expect(screen.queryByRole('button', { name: t('common:back') })).toBeNull();
    expect(screen.getAllByRole('link').map((a) => a.getAttribute('href'))).toEqual(['#/help']);
    expect(screen.getAllByRole('button')).toHaveLength(1);
    expect(screen.queryByText(t('visit:choose.title'))).toBeNull();
  });

  test('whatever the address says, the page stays; help is still one tap away', async () => {
    const all = await phone();
    await handOver(all);
    for (const place of ['today', 'log', 'settings', 'note', 'open', 'confirm', 'people']) {
      location.hash = `#/${place}`;
      await wait(20);
      expect(document.querySelector('.place')?.getAttribute('data-place'), place).toBe('visit');
    }
    location.hash = '#/help';
    await screen.findByText(t('alert:help.title'));
    location.hash = '#/today';
    await screen.findByRole('button', { name: t('visit:back.hold') });
  });

  test('a new start of the app shows it again', async () => {
    const all = await phone();
    await handOver(all);
    cleanup();
    await all.notebook.reload();
    location.hash = '#/today';
    all.show(<App notebook={all.notebook} />);
    await screen.findByRole('button', { name: t('visit:back.hold') });
  });

  test('a short press does not end it, three seconds do', async () => {
    const all = await phone();
    await handOver(all);
    const hold = button('visit:back.hold');
    fireEvent.pointerDown(hold, { pointerId: 1 });
    await wait(400);
    expect(hold.textContent).toBe(t('visit:back.on', { seconds: 3 }));
    fireEvent.pointerUp(hold, { pointerId: 1 });
    await wait(3200);
    expect(all.notebook.state.settings.handed).toBeDefined();
    fireEvent.pointerDown(hold, { pointerId: 1 });
    await vi.waitFor(() => expect(all.notebook.state.settings.handed).toBeUndefined(), { timeout: 5000 });
    await screen.findByRole('button', { name: t('visit:hand') });
  });

  test('who cannot hold presses five times, and is told how many are left', async () => {
    const all = await phone();
    await handOver(all);
    const hold = button('visit:back.hold');
    for (const left of [4, 3, 2, 1]) {
      fireEvent.click(hold);
      await wait(20);
      expect(screen.getByRole('status').textContent).toBe(t('visit:back.presses', { count: left }));
    }
    expect(all.notebook.state.settings.handed).toBeDefined();
    fireEvent.click(hold);
    await vi.waitFor(() => expect(all.notebook.state.settings.handed).toBeUndefined());
  });

  test('a held key is one hold, however often the keyboard repeats it', async () => {
    const all = await phone();
    await handOver(all);
    const hold = button('visit:back.hold');
    for (let i = 0; i < 10; i++) fireEvent.keyDown(hold, { key: 'Enter', repeat: i > 0 });
    fireEvent.keyUp(hold, { key: 'Enter' });
    await wait(20);
    expect(screen.getByRole('status').textContent).toBe(t('visit:back.presses', { count: 4 }));
    expect(all.notebook.state.settings.handed).toBeDefined();
  });

  test('it is the page of the person it was handed over for, whoever’s book was opened last', async () => {
    const all = await phone([note('q', '2031-03-17T09:00', 'A question of the first', { forVisit: true })]);
    const first = all.notebook.state.book?.id ?? '';
    const plan = demoPlan();
    await acceptPlan(all.notebook, mustRead({ ...plan, id: 'other', person: { ...plan.person, id: 'other', callMe: 'Ivo' } }));
    await all.notebook.saveSettings({ handed: { book: first } });
    expect(all.notebook.state.book?.id).toBe('other');
    all.show(<App notebook={all.notebook} />);
    expect((await sheet()).textContent).toContain('A question of the first');
    expect((await sheet()).textContent).not.toContain('Ivo');
  });
});

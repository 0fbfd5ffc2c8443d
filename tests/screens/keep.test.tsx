// @vitest-environment happy-dom
import { cleanup, render, screen, waitFor } from '@testing-library/preact';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { LogRecord } from '../../app/care/log/records.ts';
import type { Plan } from '../../app/care/plan/plan.ts';
import { bookCodes } from '../../app/exchange/book-codes.ts';
import type { BookArrival, SentBook } from '../../app/exchange/book-content.ts';
import { dropLog, offerLog } from '../../app/screens/incoming-log.ts';
import { CopyScreen } from '../../app/screens/keep/copy.tsx';
import { JudgeScreen } from '../../app/screens/keep/judge.tsx';
import { KeepScreen } from '../../app/screens/keep/keep.tsx';
import { PhonesScreen } from '../../app/screens/keep/phones.tsx';
import { Ready } from '../../app/screens/keep/ready.tsx';
import { TakeInScreen } from '../../app/screens/keep/take-in.tsx';
import { LogCodes } from '../../app/screens/log-codes.tsx';
import { KeepNotice } from '../../app/screens/today/keep-notice.tsx';
import { beginTaking } from '../../app/store/take-in.ts';
import { formatBytes, formatPercent } from '../../app/words/format.ts';
import { t } from '../../app/words/i18n.ts';
import { alert, change, check, note, outcome, stamp } from '../care/log/make.ts';
import { demoPlan, mustRead } from '../care/plan/plans.ts';
import { bookOf } from '../exchange/logs.ts';
import { ADDRESS } from '../exchange/make.ts';
import { type Stage, stage } from './stage.tsx';

const { sample: _sample, ...real } = demoPlan();
/** The demo plan, but of a real person: nobody keeps copies of a sample. */
const plan = mustRead(real);
const day = (n: number): string => `2031-02-${String(n).padStart(2, '0')}`;
const dated = (id: string, on: string): LogRecord => note(id, `${on}T09:00`);
/** Lets what loads by itself load. */
const settle = (): Promise<void> => new Promise((done) => setTimeout(done, 30));

const press = (on: Stage, name: RegExp | string) => on.user.click(screen.getByRole('button', { name }));
const text = (): string => document.body.textContent ?? '';

const sent = (more: Partial<SentBook> = {}): BookArrival => ({
  ok: true,
  book: {
    plan,
    earlierPlans: [],
    acceptedAt: '2031-03-01T09:00:00.000Z',
    records: [note('theirs', '2031-03-04T10:00', 'from the other phone', { device: 'phone-2' })],
    photos: [],
    made: '2031-03-04T14:00:00.000Z',
    device: 'phone-2',
    from: undefined,
    odd: [],
    ...more,
  },
});

afterEach(() => {
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
  cleanup();
});

describe('the reminder on the first screen', () => {
  const noticed = async (options: Parameters<typeof stage>[0]): Promise<Stage> => {
    const on = await stage(options);
    on.show(<KeepNotice />);
    await settle();
    return on;
  };

  test('speaks from the second week on and can be put off', async () => {
    const on = await noticed({ plan, records: [dated('a', day(20))] });
    expect(screen.getByText(/time to keep a copy/)).toBeTruthy();
    expect(screen.getByRole('link', { name: 'Keep a copy' }).getAttribute('href')).toBe('#/copy');
    await press(on, 'Not now');
    await waitFor(() => expect(text()).not.toContain('copy'));
    expect(on.notebook.state.settings.copyLater).toBe('2031-03-11');
  });

  test('is silent in the first week, after a copy, when turned off, and for a sample', async () => {
    await noticed({ plan, records: [dated('a', '2031-03-01')] });
    expect(text()).toBe('');
    const on = await noticed({ plan, records: [dated('a', day(20))] });
    await on.notebook.saveSettings({ copiedOn: on.notebook.today() });
    await waitFor(() => expect(text()).toBe(''));
    await on.notebook.saveSettings({ copiedOn: undefined, copyEvery: 0 });
    await settle();
    expect(text()).toBe('');
    await noticed({ records: [dated('a', day(20))] });
    expect(text()).toBe('');
  });

  test('never speaks while an alert waits', async () => {
    await noticed({ plan, records: [dated('a', day(20)), alert('x', '2031-03-04T09:00')] });
    expect(text()).toBe('');
  });

  test('tells first what was taken in only in part, then what does not agree', async () => {
    const counts = (['phone-1', 'phone-2'] as const).map(
      (device, i): LogRecord => ({
        ...stamp(`c${i}`, `2031-03-04T1${i}:00`),
        device,
        kind: 'stock',
        item: 'gauze',
        movement: 'counted',
        amount: 5 + i,
      }),
    );
    const on = await noticed({ plan, records: [dated('a', day(20)), ...counts] });
    expect(screen.getByRole('link', { name: 'Look at it' }).getAttribute('href')).toBe('#/judge');
    await beginTaking(on.notebook.shelf);
    on.show(<KeepNotice />);
    await waitFor(() => expect(text()).toContain('only in part'));
  });
});

describe('what the phone promises', () => {
  const storage = (persisted: boolean, persist = false) => ({
    persisted: async () => persisted,
    persist: async () => persist,
    estimate: async () => ({ usage: 3_400_000 }),
  });
  const shown = async (vendor: string, store: object | undefined): Promise<Stage> => {
    Object.defineProperty(navigator, 'vendor', { value: vendor, configurable: true });
    Object.defineProperty(navigator, 'storage', { value: store, configurable: true });
    const on = await stage({ plan });
    on.show(<KeepScreen />);
    await waitFor(() => expect(text()).toContain('Will this phone keep the log?'));
    return on;
  };

  test('is said in plain words: kept, Safari’s seven days, short of space, not known', async () => {
    await shown('Google Inc.', storage(true));
    expect(text()).toContain('Yes. This phone keeps the log');
    expect(screen.queryByRole('button', { name: /Ask/ })).toBeNull();
    expect(text()).toContain(formatBytes(3_400_000));
    await shown('Apple Computer, Inc.', storage(false));
    expect(text()).toContain('open it for 7 days');
    await shown('Google Inc.', storage(false));
    expect(text()).toContain('runs out of space');
    expect(text()).not.toContain('Safari');
    await shown('', undefined);
    expect(text()).toContain('does not say');
  });

  test('is asked for with a button, and a no is told', async () => {
    const on = await shown('Google Inc.', storage(false));
    await press(on, 'Ask the phone to keep it');
    await waitFor(() => expect(text()).toContain('did not agree'));
  });

  test('the reminder is chosen here', async () => {
    const on = await shown('', undefined);
    await on.user.click(screen.getByRole('radio', { name: 'After 30 days' }));
    await waitFor(() => expect(on.notebook.state.settings.copyEvery).toBe(30));
    expect((screen.getByRole('radio', { name: 'After 30 days' }) as HTMLInputElement).checked).toBe(true);
  });
});

describe('a file that is ready', () => {
  const name = 'tendbook-copy-2031-03-04.txt';
  const ready = (onGone: () => void = () => undefined) => (
    <Ready title="Ready" text="Text" name={name} file={new Blob(['x'])} back="keep" onGone={onGone} />
  );
  const sheet = (share: (data: ShareData) => Promise<void>) => {
    Object.assign(navigator, { canShare: (data: ShareData) => data.files?.[0]?.name.endsWith('.txt') ?? false, share });
  };
  beforeEach(() => {
    Object.assign(navigator, { canShare: undefined, share: undefined });
  });

  test('goes to the share sheet as a text file, where there is one', async () => {
    const shared: File[] = [];
    sheet(async ({ files }) => void shared.push(...(files ?? [])));
    const on = await stage({ plan });
    const gone = vi.fn();
    on.show(ready(gone));
    await press(on, 'Send the file');
    await waitFor(() => expect(gone).toHaveBeenCalledTimes(1));
    expect(shared.map((f) => [f.name, f.type])).toEqual([[name, 'text/plain']]);
    expect(screen.getByRole('status').textContent).toBe('The file was sent.');
  });

  test('a closed share sheet means nothing was sent; one that fails is told', async () => {
    sheet(async () => {
      throw new DOMException('', 'AbortError');
    });
    const on = await stage({ plan });
    const gone = vi.fn();
    on.show(ready(gone));
    await press(on, 'Send the file');
    await settle();
    expect(gone).not.toHaveBeenCalled();
    expect(screen.queryByRole('status')).toBeNull();
    sheet(async () => {
      throw new DOMException('', 'NotAllowedError');
    });
    await press(on, 'Send the file');
    await waitFor(() => expect(screen.getByRole('status').textContent).toContain('Save the file instead'));
    expect(gone).not.toHaveBeenCalled();
  });

  test('without a share sheet it is saved', async () => {
    const on = await stage({ plan });
    const gone = vi.fn();
    on.show(ready(gone));
    expect(screen.queryByRole('button', { name: 'Send the file' })).toBeNull();
    const click = vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(() => undefined);
    await press(on, 'Save the file');
    expect(click).toHaveBeenCalledTimes(1);
    expect(gone).toHaveBeenCalledTimes(1);
  });
});

describe('making a copy', () => {
  test('warns that nobody can recover the passphrase, and makes none that is short or typed differently', async () => {
    const on = await stage({ plan });
    on.show(<CopyScreen />);
    expect(text()).toContain('No one can find it out for you');
    await press(on, 'Make the copy');
    expect(screen.getByRole('alert').textContent).toContain('too short');
    await on.user.type(screen.getByLabelText('Choose a passphrase'), 'four grey geese');
    await on.user.type(screen.getByLabelText('Type it once more'), 'four grey goose');
    expect(screen.getByRole('alert').textContent).toContain('not the same');
    await on.user.click(screen.getByLabelText('Show what I type'));
    expect((screen.getByLabelText('Choose a passphrase') as HTMLInputElement).type).toBe('text');
  });

  test('notes the day only once the file has left the app', async () => {
    vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(() => undefined);
    const on = await stage({ plan });
    on.show(<CopyScreen />);
    await on.user.type(screen.getByLabelText('Choose a passphrase'), 'four grey geese');
    await on.user.type(screen.getByLabelText('Type it once more'), 'four grey geese');
    await press(on, 'Make the copy');
    await waitFor(() => expect(text()).toContain('The copy is ready'), { timeout: 10_000 });
    expect(on.notebook.state.settings.copiedOn).toBeUndefined();
    await press(on, 'Save the file');
    await waitFor(() => expect(on.notebook.state.settings.copiedOn).toBe('2031-03-04'));
  });
});

describe('a log that came', () => {
  let on: Stage;
  const show = async (arrival: BookArrival, options: Parameters<typeof stage>[0] = { plan }) => {
    on = await stage(options);
    await dropLog(on.notebook.shelf);
    offerLog(arrival);
    on.show(<TakeInScreen />);
    await settle();
  };
  const revised = (more: Partial<Plan>): Plan => mustRead({ ...plan, ...more });

  test('is asked about first; after a yes it is in the book, after a no nothing changed', async () => {
    await show(sent());
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe("Add this log to Nela's book?");
    expect(text()).toContain('1 entry');
    const before = on.notebook.state.records;
    await press(on, 'Not now');
    await settle();
    expect(on.notebook.state.records).toEqual(before);
    offerLog(sent());
    on.show(<TakeInScreen />);
    await settle();
    await press(on, 'Yes, add it');
    await waitFor(() => expect(text()).toContain('1 new entry was added.'));
    expect(on.notebook.state.records.map((r) => r.id)).toContain('theirs');
  });

  test('with a newer plan shows what it changes and the clinic’s present number before the yes', async () => {
    await show(sent({ plan: revised({ revision: 2, clinic: { ...plan.clinic, phone: '+1 312 555 0199' } }) }));
    expect(text()).toContain('newer plan, version 2');
    expect(text()).toContain("The clinic's phone");
    expect(text()).toContain('+1 312 555 0199');
    expect(document.querySelector('.call')?.getAttribute('href')).toBe('tel:+13125550142');
    await press(on, 'Yes, add it');
    await waitFor(() => expect(text()).toContain('A newer plan came along'));
    expect(on.notebook.state.book?.plan.revision).toBe(2);
  });

  test('with the same plan number and another content keeps the plan here and says whom to call', async () => {
    await show(sent({ plan: revised({ greeting: 'Not the same.' }) }));
    expect(text()).toContain('not the same');
    await press(on, 'Yes, add it');
    await waitFor(() => expect(text()).toContain('kept its own'));
    expect(on.notebook.state.book?.plan.greeting).not.toBe('Not the same.');
  });

  test('of somebody else has the careful answer as its main button', async () => {
    await show(sent({ plan: revised({ id: 'birch-1', person: { ...plan.person, id: 'ivo', callMe: 'Ivo' } }) }));
    expect(text()).toContain('no book for Ivo');
    expect(document.querySelector('footer .button-main')?.textContent).toBe('Not now');
    expect(text()).toContain('Compare the names');
  });

  test('what cannot be read is told before and after, and kept aside', async () => {
    await show(sent({ odd: [{ kind: 'wish' }] }));
    expect(text()).toContain('1 entry cannot be read');
    await press(on, 'Yes, add it');
    await waitFor(() => expect(text()).toContain('kept aside'));
    expect(on.notebook.state.setAside.map((s) => s.value)).toContainEqual({ kind: 'wish' });
  });

  test('each kind of file that is none has its own words', async () => {
    const said = new Set<string>();
    for (const why of [
      'nothing',
      'tooLarge',
      'plan',
      'backup',
      'notABook',
      'cutOff',
      'damaged',
      'newerVersion',
      'unsafe',
      'planUnreadable',
    ] as const) {
      await show({ ok: false, why });
      expect(text()).toContain('Nothing on this phone was changed.');
      said.add(document.querySelector('.lead')?.textContent ?? '');
    }
    expect(said.size).toBe(10);
  });

  test('that the store refuses is told, and stays to be tried again', async () => {
    await show(sent());
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('full', 'QuotaExceededError');
    });
    await press(on, 'Yes, add it');
    await waitFor(() => expect(screen.getByRole('alert').textContent).toContain('could not be saved'));
    vi.restoreAllMocks();
    await press(on, 'Yes, add it');
    await waitFor(() => expect(text()).toContain('1 new entry was added.'));
  });

  test('with nothing waiting says where to begin', async () => {
    on = await stage({ plan });
    await dropLog(on.notebook.shelf);
    on.show(<TakeInScreen />);
    await settle();
    expect(text()).toContain('Choose the file of the other phone');
  });
});

describe('what does not agree', () => {
  const two = <R extends LogRecord>(a: R, b: R): LogRecord[] => [
    { ...a, device: 'phone-1' },
    { ...b, device: 'phone-2', by: { who: 'caregiver', name: 'Ilse' } },
  ];
  const shown = async (records: LogRecord[]): Promise<Stage> => {
    const on = await stage({ plan, records });
    on.show(<JudgeScreen />);
    await settle();
    return on;
  };
  const count = (id: string, at: string, amount: number): LogRecord => ({
    ...stamp(id, at),
    kind: 'stock',
    item: 'gauze',
    movement: 'counted',
    amount,
  });

  test('is shown one by one with who wrote it on which phone; nothing is chosen beforehand', async () => {
    const on = await shown([
      ...two(count('c1', '2031-03-04T09:00', 10), count('c2', '2031-03-04T10:00', 7)),
      alert('a', '2031-03-04T12:00'),
      ...two(outcome('o1', ['a'], 'reached', '2031-03-04T12:10'), outcome('o2', ['a'], 'couldNotReach', '2031-03-04T12:20')),
    ]);
    expect(text()).toContain('Gauze pads');
    expect(screen.getByText(/Ilse, .*the other phone/)).toBeTruthy();
    await press(on, 'Save');
    expect(screen.getByRole('alert').textContent).toContain('Choose one first');
    await on.user.click(screen.getByRole('radio', { name: /^7 counted/ }));
    await press(on, 'Save');
    await waitFor(() => expect(text()).toContain('What came of the call?'));
    expect(on.written('void')).toMatchObject([{ target: 'c1' }]);
    await on.user.click(screen.getByRole('radio', { name: 'Both are right' }));
    await press(on, 'Save');
    await waitFor(() => expect(text()).toContain('Nothing is left'));
    expect(on.notebook.state.records.map((r) => r.id)).toEqual(expect.arrayContaining(['c1', 'c2', 'o1', 'o2']));
  });

  test('a change entered twice is one change after the choice', async () => {
    const on = await shown(two(change('d1', '2031-03-04T09:00'), change('d2', '2031-03-04T09:20')));
    expect(text()).toContain('One change or two?');
    await on.user.click(screen.getAllByRole('radio')[0] as HTMLElement);
    await press(on, 'Save');
    await waitFor(() => expect(text()).toContain('Nothing is left'));
    expect(on.written('void')).toMatchObject([{ target: 'd2' }]);
  });

  test('an entry corrected twice shows only what differs, and has no "both"', async () => {
    const first = check('k', '2031-03-04T09:00');
    const corrected = (id: string, pain: 'more' | 'severe') =>
      check(id, '2031-03-04T10:00', { amends: 'k', feet: { left: { ...first.feet.left, pain } } });
    const on = await shown([first, ...two(corrected('k1', 'more'), corrected('k2', 'severe'))]);
    const labels = screen.getAllByRole('radio').map((r) => r.closest('label')?.querySelector('.choice-label')?.textContent);
    expect(labels).toHaveLength(2);
    for (const label of labels) expect(label).toMatch(/^Left foot: Pain: /);
    await on.user.click(screen.getAllByRole('radio')[1] as HTMLElement);
    await press(on, 'Save');
    await waitFor(() => expect(text()).toContain('Nothing is left'));
    expect(on.notebook.state.entries.find((e) => e.first.id === 'k')?.now).toMatchObject({ feet: { left: { pain: 'severe' } } });
  });

  test('can be left for later, and says so', async () => {
    const on = await shown(two(count('c1', '2031-03-04T09:00', 10), count('c2', '2031-03-04T10:00', 7)));
    await press(on, 'Later');
    await waitFor(() => expect(text()).toContain('1 thing is left for later.'));
    expect(on.written('void')).toEqual([]);
  });
});

describe('codes of a log', () => {
  const codes = bookCodes(bookOf(7), ADDRESS) ?? [];

  test('are turned by hand or by themselves, round and round', async () => {
    await stage({ plan });
    vi.useFakeTimers();
    try {
      render(<LogCodes codes={codes} />);
      const label = () => screen.getByRole('img').getAttribute('aria-label');
      expect(label()).toBe(`Code 1 of ${codes.length}`);
      screen.getByRole('button', { name: 'Turn the codes for me' }).click();
      const seen = new Set<string | null>();
      for (let i = 0; i < codes.length + 1; i++) {
        await vi.advanceTimersByTimeAsync(1_500);
        seen.add(label());
      }
      expect(seen.size).toBe(codes.length);
      screen.getByRole('button', { name: 'Stop turning' }).click();
      await vi.advanceTimersByTimeAsync(100);
      const stood = label();
      await vi.advanceTimersByTimeAsync(9_000);
      expect(label()).toBe(stood);
      screen.getByRole('button', { name: t('keep:codes.after') }).click();
      await vi.advanceTimersByTimeAsync(100);
      expect(label()).not.toBe(stood);
    } finally {
      vi.useRealTimers();
    }
  });
});

describe('two phones', () => {
  test('a phone without a book can only take in', async () => {
    const on = await stage({ plan });
    Object.assign(on.notebook.state, { book: undefined });
    on.show(<PhonesScreen />);
    expect(screen.queryByRole('button', { name: 'Make a file' })).toBeNull();
    expect(screen.getByText('Choose its file')).toBeTruthy();
  });
});

test('sizes and shares are written as the language writes them', async () => {
  await stage({ plan });
  expect([formatBytes(0), formatBytes(340_400), formatBytes(1_250_000), formatPercent(0.34)]).toEqual(['0 kB', '340 kB', '1.3 MB', '34%']);
});

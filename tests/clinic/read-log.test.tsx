// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen, waitFor, within } from '@testing-library/preact';
import { userEvent } from '@testing-library/user-event';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { LogRecord } from '../../app/care/log/records.ts';
import type { Plan } from '../../app/care/plan/plan.ts';
import { visitSummary } from '../../app/care/visit/summary.ts';
import { Desk } from '../../app/clinic/desk.tsx';
import { bookCodes, foldBook, readBookCodes } from '../../app/exchange/book-codes.ts';
import type { BookToSend } from '../../app/exchange/book-content.ts';
import { readBookBytes, writeBookFile } from '../../app/exchange/book-file.ts';
import { planToCode, planToFile } from '../../app/exchange/plan-file.ts';
import { formatDay } from '../../app/words/format.ts';
import { AREAS, loadAreas, t, words } from '../../app/words/i18n.ts';
import { note } from '../care/log/make.ts';
import { demoPlan, mustRead } from '../care/plan/plans.ts';
import { EXAMPLE, exampleInput, NOW, REVISION_1, REVISION_2 } from '../care/visit/example.ts';
import { bookOf, PHONE } from '../exchange/logs.ts';

// No canvas here: a photo holds its codes as text.
vi.mock('../../app/exchange/photo-codes.ts', () => ({
  codesInPhoto: async (photo: Blob) => ({ ok: true, texts: JSON.parse(await photo.text()) as string[] }),
}));

const ADDRESS = 'https://tendbook.example/app/';
/** The hand-worked log as a phone hands it over. */
const example = (more: Partial<BookToSend> = {}): BookToSend => ({
  plan: REVISION_2,
  earlierPlans: [REVISION_1],
  acceptedAt: '2031-03-10T15:00:00.000Z',
  records: EXAMPLE,
  made: new Date(NOW).toISOString(),
  device: PHONE,
  ...more,
});
const ivo = (): Plan => mustRead({ ...demoPlan(), id: 'other-1', person: { id: 'ivo', callMe: 'Ivo', language: 'en' } });

async function fileOf(book: BookToSend, name = 'log.txt'): Promise<File> {
  return new File([await (await writeBookFile(book)).text()], name, { type: 'text/plain' });
}
const textFile = (text: string, name = 'log.txt'): File => new File([text], name, { type: 'text/plain' });
const codesOf = (book: BookToSend): string[] => (bookCodes(book, ADDRESS) ?? []).map((c) => c.text);

let user = userEvent.setup();
let saved: { name: string; text: string }[] = [];
beforeEach(async () => {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
  user = userEvent.setup({ applyAccept: false });
  saved = [];
  const blobs = new Map<string, Blob>();
  vi.spyOn(URL, 'createObjectURL').mockImplementation((blob) => {
    const url = `blob:test/${blobs.size}`;
    blobs.set(url, blob as Blob);
    return url;
  });
  vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(function (this: HTMLAnchorElement) {
    const { download } = this;
    void (blobs.get(this.href) as Blob).text().then((text) => saved.push({ name: download, text }));
  });
});
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const press = async (name: string | RegExp) => user.click(await screen.findByRole('button', { name }));
const starting = (key: string): RegExp => new RegExp(`^${t(key)}`);
const alertText = async (): Promise<string | null> => (await screen.findByRole('alert')).textContent;

/** The desk with the page on which a log is opened. */
async function toReadLog(): Promise<void> {
  render(<Desk />);
  await press(starting('clinic:readLog.title'));
  await screen.findByRole('heading', { level: 1, name: t('clinic:readLog.title') });
}
const choose = async (...files: File[]) => user.upload(screen.getByLabelText(starting('clinic:readLog.file')), files);
const photograph = async (...texts: string[][]) =>
  user.upload(
    screen.getByLabelText(t('clinic:readLog.photos')),
    texts.map((own, i) => new File([JSON.stringify(own)], `${i}.png`, { type: 'image/png' })),
  );
async function open(book: BookToSend = example()): Promise<void> {
  await toReadLog();
  await choose(await fileOf(book));
  await screen.findByRole('heading', { level: 1, name: t('clinic:log.title', { name: book.plan.person.callMe }) });
}
const shown = (): HTMLElement => screen.getByRole('tabpanel');
const findings = (): string[] =>
  within(screen.getByRole('complementary'))
    .getAllByRole('listitem')
    .map((li) => li.textContent ?? '');

describe('a log that is opened', () => {
  test('says whose it is, from which phone and when, and that this proves nothing about the sender', async () => {
    await open();
    const banner = within(screen.getByRole('main')).getByRole('heading', { level: 1 }).closest('header') as HTMLElement;
    expect(banner.textContent).toContain(
      t('clinic:log.made', { day: formatDay('2031-03-18' as never, 'short'), time: '12:00 PM', device: '5d0c1d9e' }),
    );
    expect(banner.textContent).toContain(t('clinic:log.under', { revision: 2, clinic: 'Alder Street Foot Clinic' }));
    expect(banner.textContent).toContain(t('clinic:log.proof'));
  });

  test('shows the page for the visit as of the hour the phone made it, not as of now', async () => {
    const { checks } = visitSummary(exampleInput());
    await open();
    const done = t('visit:checks.of', { done: checks.done, days: t('visit:days', { count: checks.days }) });
    expect(shown().textContent).toContain(t('visit:checks.todayOpen', { done }));
    expect(shown().textContent).toContain('May I shower?');
    // The photos of the log did not come along.
    expect(within(shown()).getAllByText(t('visit:photos.notHere'))).toHaveLength(2);
  });

  test('lists what stands against the plan, with the days it rests on', async () => {
    await open();
    expect(screen.getByRole('heading', { name: t('clinic:found.title', { count: 14 }) })).toBeTruthy();
    expect(findings()[2]).toBe(
      `${t('clinic:found.fever', { reading: '38.4 °C', where: t('check:temperature.site.mouth') })}${t('clinic:found.days', { days: 'Mar 8, Mar 14' })}`,
    );
    expect(findings()[6]).toContain(
      `${t('clinic:found.late', { count: 2 })} ${t('clinic:found.missed', { count: 2 })} ${t('clinic:found.overdue', { day: 'Mar 17' })}`,
    );
    expect(findings().at(-5)).toContain('May I shower?');
  });

  test('goes day by day: level, temperature, timing, amount against the plan, alert and outcome, words', async () => {
    await open();
    await user.click(screen.getByRole('tab', { name: t('clinic:log.tab.days') }));
    const rows = within(shown()).getAllByRole('row').slice(1);
    expect(rows).toHaveLength(16);
    const row = (day: string) => rows.find((r) => within(r).getByRole('rowheader').textContent?.endsWith(day))?.textContent ?? '';
    expect(row('Mar 5')).toContain(t('clinic:log.timing.early', { time: '3:00 PM', why: t('check:dressing.said.markedThrough') }));
    expect(row('Mar 5')).toContain('Come on Friday.');
    expect(row('Mar 6')).toContain(t('clinic:log.noCheck'));
    expect(row('Mar 8')).toContain('38.4 °C');
    expect(row('Mar 9')).toContain(
      t('clinic:log.against', { found: t('check:drainageAmount.said.heavy'), place: t('visit:drainage.above') }),
    );
    expect(row('Mar 13')).toContain('Slept badly.');
  });

  test('photos that came along stand side by side, any two of them', async () => {
    const jpeg = (n: number) => new Blob([new Uint8Array([0xff, 0xd8, 0xff, n])], { type: 'image/jpeg' });
    await toReadLog();
    const file = await writeBookFile(
      example(),
      new Map([
        ['bytes-photo-1', jpeg(1)],
        ['bytes-photo-2', jpeg(2)],
      ]),
    );
    await choose(textFile(await file.text()));
    await user.click(await screen.findByRole('tab', { name: t('clinic:log.tab.photos', { count: 2 }) }));
    const pictures = () =>
      within(shown())
        .getAllByRole('img')
        .map((img) => (img as HTMLImageElement).alt);
    expect(pictures()).toEqual(['Mar 4, 2031', 'Mar 10, 2031'].map((day) => t('visit:photos.of', { day })));
    await user.selectOptions(screen.getByLabelText(t('clinic:log.photoOf.one')), 'photo-2');
    expect(pictures()[0]).toBe(t('visit:photos.of', { day: 'Mar 10, 2031' }));
  });

  test('of some days only is never told as if it held more: the days before are not missed checks', async () => {
    await open(example({ from: '2031-03-10' as never }));
    await user.selectOptions(screen.getByLabelText(t('clinic:log.days')), 'all');
    expect(shown().textContent).toContain(
      t('visit:period.span', { from: 'Mar 10, 2031', to: 'Mar 18, 2031', days: t('visit:days', { count: 9 }) }),
    );
    expect(screen.getByText(t('clinic:log.from', { day: 'Mar 10, 2031' }))).toBeTruthy();
  });

  test('can be shown for days of one’s own', async () => {
    await open();
    await user.selectOptions(screen.getByLabelText(t('clinic:log.days')), 'days');
    fireEvent.input(screen.getByLabelText(t('clinic:log.first')), { target: { value: '2031-03-05' } });
    fireEvent.input(screen.getByLabelText(t('clinic:log.last')), { target: { value: '2031-03-07' } });
    await waitFor(() => expect(shown().textContent).toContain(t('visit:days', { count: 3 })));
    // A last day before the first changes nothing.
    fireEvent.input(screen.getByLabelText(t('clinic:log.last')), { target: { value: '2031-03-01' } });
    expect(shown().textContent).toContain(t('visit:days', { count: 3 }));
  });

  test('is saved as the very file that it was, and closing it leaves nothing', async () => {
    const file = await fileOf(example(), 'from-nela.txt');
    await toReadLog();
    await choose(file);
    await press(t('clinic:log.save'));
    await waitFor(() => expect(saved).toHaveLength(1));
    expect(saved[0]).toEqual({ name: 'from-nela.txt', text: await file.text() });
    await press(t('clinic:log.close'));
    expect(await screen.findByRole('heading', { level: 1, name: t('clinic:start.title') })).toBeTruthy();
    expect(document.body.textContent).not.toContain('May I shower?');
  });

  test('its words are words: markup in them becomes no element', async () => {
    const evil = '<img src=x onerror="document.title=1"><b>bold</b>';
    const records: LogRecord[] = [note('n', '2031-03-17T09:00', evil, { forVisit: true })];
    await open(example({ records, plan: mustRead({ ...REVISION_2, person: { ...REVISION_2.person, callMe: '<i>N</i>' } }) }));
    expect(screen.getAllByText(evil).length).toBeGreaterThan(0);
    expect(document.querySelectorAll('main img, main b, main i')).toHaveLength(0);
    expect(document.title).toBe(t('clinic:title'));
  });
});

describe('what is no log', () => {
  const whole = async () => (await writeBookFile(example())).text();
  test.each<[string, string, () => Promise<string> | string]>([
    ['an empty file', 'nothing', () => ''],
    ['half a file', 'cutOff', async () => (await whole()).slice(0, 4000)],
    ['a file with a changed letter', 'damaged', async () => (await whole()).replace('May I shower', 'May I shouer')],
    ['a plan', 'plan', () => planToFile(demoPlan())],
    ['a locked copy', 'backup', () => '{"tendbook":"backup","version":1}'],
    ['a file for another system', 'notABook', () => '{"resourceType":"Bundle","type":"collection"}'],
    ['a letter', 'notABook', () => 'Dear clinic'],
    ['a log of a newer version', 'newerVersion', async () => (await whole()).replace('"version":1', '"version":9')],
    ['a hostile one', 'unsafe', async () => (await whole()).replace('"acceptedAt"', '"__proto__":{"x":1},"acceptedAt"')],
    ['a hostile one nested without end', 'unsafe', () => `{"tendbook":"book","version":1,"plan":${'['.repeat(5000)}${']'.repeat(5000)}}`],
  ])('%s is told, and nothing is opened', async (_name, why, make) => {
    await toReadLog();
    await choose(textFile(await make()));
    expect(await alertText()).toBe(t(`clinic:readLog.fault.${why}`));
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('clinic:readLog.title'));
    expect(({} as { x?: number }).x).toBeUndefined();
  });

  test('a file that the browser cannot read is told', async () => {
    await toReadLog();
    const file = textFile('x');
    vi.spyOn(file, 'arrayBuffer').mockRejectedValue(new DOMException('no', 'NotReadableError'));
    await choose(file);
    expect(await alertText()).toBe(t('clinic:readLog.fault.unreadable'));
  });

  test('a log given where a plan is expected is told, and where it belongs', async () => {
    render(<Desk />);
    const plan = await screen.findByLabelText(starting('clinic:start.earlier'));
    await user.upload(plan, await fileOf(example()));
    expect(await alertText()).toBe(t('clinic:start.fault.log'));
  });

  test('entries that cannot be read are counted and shown nowhere; the rest is', async () => {
    await open(example({ records: [...EXAMPLE, { id: 'x', kind: 'fromTheFuture' }] }));
    expect(screen.getByText(t('clinic:log.odd', { count: 1 }))).toBeTruthy();
    expect(shown().textContent).toContain(t('visit:gaps.unreadable', { count: 1 }));
  });

  test('entries of a thousand years are not spread out day by day', async () => {
    const old = note('n', '1031-03-17T09:00', 'long ago');
    await open(example({ records: [old, ...EXAMPLE] }));
    await user.selectOptions(screen.getByLabelText(t('clinic:log.days')), 'all');
    expect(shown().textContent).toContain(t('visit:days', { count: 1100 }));
    expect(screen.getByText(t('clinic:log.most'))).toBeTruthy();
    await user.click(screen.getByRole('tab', { name: t('clinic:log.tab.days') }));
    expect(within(shown()).getAllByRole('row')).toHaveLength(1101);
  });
});

describe('another person', () => {
  const another = async (book: BookToSend) => user.upload(screen.getByLabelText(t('clinic:log.another')), await fileOf(book));

  test('their log does not take the place of the one that is open, and nothing is mixed', async () => {
    await open();
    await another(bookOf(3, { plan: ivo() }));
    expect(await alertText()).toBe(t('clinic:readLog.otherPerson', { other: 'Ivo', name: 'Nela' }));
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('clinic:log.title', { name: 'Nela' }));
    expect(document.body.textContent).toContain('May I shower?');
  });

  test('a newer log of the same person does', async () => {
    await open();
    await another(
      example({ records: [note('n', '2031-03-19T09:00', 'Walked a mile.', { forVisit: true })], made: '2031-03-19T12:00:00.000Z' }),
    );
    await waitFor(() => expect(shown().textContent).toContain('Walked a mile.'));
    expect(document.body.textContent).not.toContain('May I shower?');
  });

  test('their log is not opened beside a plan, the person’s own is', async () => {
    render(<Desk />);
    await user.upload(await screen.findByLabelText(starting('clinic:start.earlier')), textFile(planToFile(REVISION_2)));
    await user.click(await screen.findByRole('tab', { name: t('clinic:side.log') }));
    await choose(await fileOf(bookOf(3, { plan: ivo() })));
    expect(await alertText()).toBe(t('clinic:readLog.otherPerson', { other: 'Ivo', name: 'Nela' }));
    await choose(await fileOf(example()));
    expect(await screen.findByRole('heading', { name: t('clinic:found.title', { count: 14 }) })).toBeTruthy();
  });
});

describe('codes', () => {
  const codes = codesOf(example());
  const few = codes.slice(0, -1);

  test('are taken in any order, with how many are still to come, and give the same log as the file', async () => {
    expect(codes.length).toBeGreaterThan(2);
    await toReadLog();
    await photograph(...[...few].reverse().map((c) => [c]));
    expect((await screen.findByRole('status')).textContent).toContain(
      t('clinic:readLog.progress', { found: String(few.length), count: codes.length }),
    );
    await photograph([few[0] as string], [codes.at(-1) as string]);
    await screen.findByRole('heading', { level: 1, name: t('clinic:log.title', { name: 'Nela' }) });
    const byCodes = shown().textContent;
    cleanup();
    await open();
    expect(byCodes).toBe(shown().textContent);
  });

  test('saved, they are a file that opens as the same log', async () => {
    await toReadLog();
    await photograph(codes);
    await press(t('clinic:log.save'));
    await waitFor(() => expect(saved).toHaveLength(1));
    const arrival = readBookBytes(new TextEncoder().encode(saved[0]?.text));
    expect(arrival).toEqual(readBookCodes(foldBook(example())));
    expect(saved[0]?.name).toBe('tendbook-log-clinic-nela-2031-03-18.txt');
  });

  test.each<[string, string, () => string[]]>([
    ['one of another log', 'foreign', () => [codes[0] as string, codesOf(bookOf(7))[1] as string]],
    ['one that is damaged', 'notAPart', () => [`${codes[0]?.slice(0, -40)}x`]],
    [
      'a set that does not fit together',
      'damaged',
      () => [...few, (codes.at(-1) as string).replace(/\d{3}$/, (d) => `${(Number(d[0]) + 1) % 10}${d.slice(1)}`)],
    ],
    ['one of a plan', 'plan', () => [`${ADDRESS}#plan=${planToCode(demoPlan())}`]],
    ['one of a soap', 'none', () => ['4006381333931']],
  ])('%s is told, and nothing is opened', async (_name, why, make) => {
    await toReadLog();
    await photograph(make());
    expect(await alertText()).toBe(t(`clinic:readLog.code.${why}`));
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('clinic:readLog.title'));
  });
});

describe('the next plan version', () => {
  test('begins with the plan of the log, one version on, and the findings stand beside it', async () => {
    await open();
    const before = findings();
    await press(t('clinic:log.write'));
    expect(await screen.findByText('version 3.', { exact: false })).toBeTruthy();
    expect(screen.getByRole('tab', { selected: true }).textContent).toBe(t('clinic:side.log'));
    const beside = within(shown()).getAllByRole('listitem');
    expect(beside).toHaveLength(before.length);
    expect(
      within(shown()).getByText(t('clinic:found.from', { name: 'Nela', from: 'Mar 3, 2031', to: 'Mar 18, 2031', revision: 2 })),
    ).toBeTruthy();
    // What can be answered in the form leads there; a question does not.
    expect(within(beside[4] as HTMLElement).getByRole('button', { name: t('clinic:findings.show') })).toBeTruthy();
    expect(within(beside.at(-5) as HTMLElement).queryByRole('button')).toBeNull();
  });

  test('closing it leads back to the log', async () => {
    await open();
    await press(t('clinic:log.write'));
    await press(t('clinic:startOver'));
    expect(await screen.findByRole('heading', { level: 1, name: t('clinic:log.title', { name: 'Nela' }) })).toBeTruthy();
  });
});

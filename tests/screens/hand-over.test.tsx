// @vitest-environment happy-dom
import { Blob as NodeBlob } from 'node:buffer';
import { cleanup, screen, waitFor, within } from '@testing-library/preact';
import { parse } from 'csv-parse/sync';
import { unzipSync } from 'fflate';
import type { Bundle, Media } from 'fhir/r4';
import { set } from 'idb-keyval';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { LogRecord } from '../../app/care/log/records.ts';
import type { LocalDay } from '../../app/care/schedule/day.ts';
import { readBookBytes } from '../../app/exchange/book-file.ts';
import { HandOverScreen } from '../../app/screens/hand-over/hand-over.tsx';
import { WAYS } from '../../app/screens/hand-over/ways.ts';
import { LogScreen } from '../../app/screens/log/log.tsx';
import { keepPhoto } from '../../app/store/photos.ts';
import { formatDay } from '../../app/words/format.ts';
import { t } from '../../app/words/i18n.ts';
import { check, measurement, note, stamp } from '../care/log/make.ts';
import { lived } from '../exchange/logs.ts';
import { type Stage, stage } from './stage.tsx';

let saved: { name: string; blob: Blob }[] = [];
beforeEach(() => {
  // The page's own Blob does not survive the store of the tests; Node's does.
  vi.stubGlobal('Blob', NodeBlob);
  saved = [];
  const blobs = new Map<string, Blob>();
  vi.spyOn(URL, 'createObjectURL').mockImplementation((blob) => {
    const url = `blob:test/${blobs.size}`;
    blobs.set(url, blob as Blob);
    return url;
  });
  vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(function (this: HTMLAnchorElement) {
    saved.push({ name: this.download, blob: blobs.get(this.href) as Blob });
  });
});
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
  for (const name of ['canShare', 'share']) Reflect.deleteProperty(navigator, name);
});

const CHICAGO = { zone: 'America/Chicago' };
const photo = (id: string, at: string): LogRecord => ({
  ...stamp(id, at),
  ...CHICAGO,
  kind: 'photo',
  wound: 'w1',
  photo: `bytes-${id}`,
  widthPx: 4,
  heightPx: 3,
});
const RECORDS: LogRecord[] = [
  check('old', '2031-01-10T15:00', CHICAGO),
  check('c1', '2031-03-01T15:00', { ...CHICAGO, by: { who: 'caregiver', name: 'Ana' } }),
  note('n1', '2031-03-03T15:00', '=1+1', { ...CHICAGO, by: { who: 'patient', name: 'Nela' } }),
];
const visit: LogRecord = { ...stamp('v1', '2031-03-02T15:00'), ...CHICAGO, kind: 'visit' };

const press = async ({ user }: Stage, name: string | RegExp) => user.click(await screen.findByRole('button', { name }));
const way = (all: Stage, id: string) => press(all, starting(`handOver:way.${id}.name`));
const next = (all: Stage) => press(all, t('common:next'));
const pick = async ({ user }: Stage, name: RegExp) => user.click(await screen.findByRole('radio', { name }));
const starting = (key: string): RegExp => new RegExp(`^${t(key)}`);
const ready = () => waitFor(() => expect(screen.getByRole('button', { name: t('handOver:save') })).toHaveProperty('disabled', false));

async function open(records: LogRecord[] = RECORDS): Promise<Stage> {
  const all = await stage({ records });
  all.show(<HandOverScreen />);
  return all;
}

/** Saves the file and reads it. */
async function save(all: Stage): Promise<{ name: string; text: string; bytes: Uint8Array }> {
  await ready();
  await press(all, t('handOver:save'));
  const { name, blob } = saved.at(-1) as (typeof saved)[number];
  return { name, text: await blob.text(), bytes: new Uint8Array(await blob.arrayBuffer()) };
}
const typesIn = (text: string): (string | undefined)[] => (JSON.parse(text) as Bundle).entry?.map((e) => e.resource?.resourceType) ?? [];

describe('handing over the log', () => {
  test('the log leads there, and every form is offered by name', async () => {
    const { show } = await stage({ records: RECORDS });
    show(<LogScreen />);
    expect(screen.getByRole('link', { name: t('log:handOver') }).getAttribute('href')).toBe('#/hand-over');
    await open();
    expect(within(screen.getByRole('list')).getAllByRole('button')).toHaveLength(WAYS.length);
  });

  test('the file for the clinic’s system holds the days that were chosen and says so before it is saved', async () => {
    const all = await open();
    await way(all, 'system');
    await next(all);
    await ready();
    const from = formatDay('2031-02-19' as LocalDay, 'short');
    for (const text of [
      t('handOver:days', { from, to: formatDay('2031-03-04' as LocalDay, 'short') }),
      t('handOver:count.check', { count: 1 }),
      t('handOver:count.note', { count: 1 }),
      t('handOver:noPhotos'),
      t('handOver:about.system', { name: 'Nela' }),
      t('handOver:writers', { names: 'Ana' }),
      t('handOver:open'),
    ])
      expect(screen.getByText(text)).toBeTruthy();
    const { name, text } = await save(all);
    expect(name).toBe('tendbook-log-record-2031-03-04.json');
    expect(typesIn(text).filter((type) => type === 'QuestionnaireResponse')).toHaveLength(1);
    expect(screen.getByRole('status').textContent).toBe(t('handOver:saved', { file: name }));
  });

  test('all that is written goes back to the first day, months that are not on screen too', async () => {
    const all = await open();
    await way(all, 'system');
    await pick(all, starting('handOver:since.all'));
    await next(all);
    await ready();
    expect(screen.getByText(t('handOver:count.check', { count: 2 }))).toBeTruthy();
    expect(typesIn((await save(all)).text).filter((type) => type === 'QuestionnaireResponse')).toHaveLength(2);
  });

  test('after a visit the days since then are chosen; without one they are not offered', async () => {
    const before = await open();
    await way(before, 'tables');
    expect(await screen.findAllByRole('radio')).toHaveLength(3);
    const after = await open([...RECORDS, visit]);
    await way(after, 'tables');
    const since = await screen.findByRole('radio', { name: starting('handOver:since.visit') });
    expect(since).toHaveProperty('checked', true);
    expect(screen.getByText(t('handOver:fromDay', { day: formatDay('2031-03-02' as LocalDay) }))).toBeTruthy();
  });

  test('days in which nothing is written give a message, not an empty file', async () => {
    const all = await open([]);
    all.device.setClock('2031-08-01T15:00:00Z');
    await way(all, 'system');
    await next(all);
    expect(screen.getByRole('alert').textContent).toBe(t('handOver:nothing'));
    await pick(all, starting('handOver:since.all'));
    await next(all);
    await ready();
  });

  test('the tables are one archive, with the patient’s name told as that of a writer', async () => {
    const all = await open();
    await way(all, 'tables');
    await next(all);
    await ready();
    expect(screen.getByText(t('handOver:writers', { names: 'Ana and Nela' }))).toBeTruthy();
    const { name, bytes } = await save(all);
    expect(name).toBe('tendbook-log-tables-nela-2031-03-04.zip');
    const files = unzipSync(bytes);
    expect(Object.keys(files)).toEqual(['checks.csv', 'notes.csv', 'plans.csv', 'columns.csv']);
    const rows: Record<string, string>[] = parse(new TextDecoder().decode(files['notes.csv']), { bom: true, columns: true });
    expect(rows.map((r) => r.text)).toEqual(["'=1+1"]);
  });

  test('going back keeps what was chosen', async () => {
    const all = await open();
    await way(all, 'tables');
    await pick(all, starting('handOver:since.threeMonths'));
    await next(all);
    await press(all, t('common:back'));
    expect(screen.getByRole('radio', { name: starting('handOver:since.threeMonths') })).toHaveProperty('checked', true);
    await press(all, t('common:back'));
    expect(screen.getByText(t('handOver:how'))).toBeTruthy();
  });
});

describe('photos', () => {
  const withPhotos = async (): Promise<Stage> => {
    const all = await stage({
      records: [...RECORDS, photo('f1', '2031-03-01T15:10'), photo('f2', '2031-03-02T15:10'), photo('f3', '2031-03-03T15:10')],
    });
    for (const id of ['f1', 'f2'])
      await keepPhoto(all.notebook.shelf, `bytes-${id}`, new Blob([new Uint8Array([255, 216, 255, 217])], { type: 'image/jpeg' }));
    all.show(<HandOverScreen />);
    return all;
  };

  test('none is marked beforehand, none goes along unmarked, and one whose bytes are not here is not offered', async () => {
    const all = await withPhotos();
    await way(all, 'system');
    await next(all);
    const boxes = await screen.findAllByRole('checkbox');
    expect(boxes.map((box) => (box as HTMLInputElement).checked)).toEqual([false, false]);
    await next(all);
    expect(typesIn((await save(all)).text)).not.toContain('Media');
    expect(screen.getByText(t('handOver:noPhotos'))).toBeTruthy();
  });

  test('the marked one goes along, with its bytes', async () => {
    const all = await withPhotos();
    await way(all, 'system');
    await next(all);
    // The newest first.
    await all.user.click((await screen.findAllByRole('checkbox'))[1] as HTMLElement);
    await next(all);
    await ready();
    expect(screen.getByText(t('handOver:count.photo', { count: 1 }))).toBeTruthy();
    const bundle = JSON.parse((await save(all)).text) as Bundle;
    const media = bundle.entry?.map((e) => e.resource).filter((r): r is Media => r?.resourceType === 'Media');
    expect(media?.map((m) => [m.content.data, m.createdDateTime])).toEqual([['/9j/2Q==', '2031-03-01T09:10:00.000-06:00']]);
  });

  test('tables do not ask for photos', async () => {
    const all = await withPhotos();
    await way(all, 'tables');
    await next(all);
    await ready();
    expect(screen.queryByRole('checkbox')).toBeNull();
  });

  test('one that is gone by the time the file is made is told, and no file is offered without it', async () => {
    const all = await withPhotos();
    await way(all, 'system');
    await next(all);
    await all.user.click((await screen.findAllByRole('checkbox'))[0] as HTMLElement);
    await set('bytes-f2', 'no picture', all.notebook.shelf.photos);
    await next(all);
    expect((await screen.findByRole('alert')).textContent).toBe(t('handOver:failed'));
    expect(screen.getByRole('button', { name: t('handOver:save') })).toHaveProperty('disabled', true);
  });
});

describe('for the clinic’s desk', () => {
  const read = (bytes: Uint8Array) => {
    const arrival = readBookBytes(bytes);
    if (!arrival.ok) throw new Error(arrival.why);
    return arrival.book;
  };
  const older = measurement('m1', '2031-01-10T15:00', 22, 16, CHICAGO);

  test('the file is the log of these days, with the older sizes that they are held against, and the plan', async () => {
    const all = await open([older, ...RECORDS]);
    await way(all, 'desk');
    await next(all);
    await ready();
    expect(screen.getByText(t('handOver:about.desk', { name: 'Nela' }))).toBeTruthy();
    expect(screen.getByText(t('handOver:writers', { names: 'Ana and Nela' }))).toBeTruthy();
    const { name, bytes } = await save(all);
    expect(name).toBe('tendbook-log-clinic-nela-2031-03-04.txt');
    const book = read(bytes);
    expect(book).toMatchObject({ from: '2031-02-19', made: new Date(all.device.now()).toISOString(), photos: [], odd: [] });
    expect(book.plan).toEqual(all.notebook.state.book?.plan);
    expect(book.records.filter((r) => r.kind !== 'planAccepted').map((r) => r.id)).toEqual(['m1', 'c1', 'n1']);
  });

  test('photos go along only where they are marked, byte for byte', async () => {
    for (const marked of [false, true]) {
      const all = await stage({ records: [...RECORDS, photo('f1', '2031-03-01T15:10')] });
      const picture = new Uint8Array([255, 216, 255, 217]);
      await keepPhoto(all.notebook.shelf, 'bytes-f1', new Blob([picture], { type: 'image/jpeg' }));
      all.show(<HandOverScreen />);
      await way(all, 'desk');
      await next(all);
      const box = await screen.findByRole('checkbox');
      if (marked) await all.user.click(box);
      await next(all);
      const { photos } = read((await save(all)).bytes);
      expect(photos.map((p) => p.id)).toEqual(marked ? ['bytes-f1'] : []);
      for (const { bytes } of photos) expect(new Uint8Array(await bytes.arrayBuffer())).toEqual(picture);
    }
  });

  test('as codes it is shown at once, says what is in it, and offers no photos', async () => {
    const all = await open([...RECORDS, photo('f1', '2031-03-01T15:10')]);
    await way(all, 'codes');
    await next(all);
    expect((await screen.findByRole('figure')).textContent).toMatch(new RegExp(t('keep:codes.codeOf', { at: '1', of: '\\d' })));
    expect(screen.getByText(t('handOver:count.check', { count: 1 }))).toBeTruthy();
    expect(screen.getByText(t('handOver:noPhotos'))).toBeTruthy();
    expect(screen.queryByRole('checkbox')).toBeNull();
  });

  test('too much for codes is told, with what to do; fewer days then fit', async () => {
    const all = await stage({ records: lived(360, { from: '2030-03-10' as LocalDay }) });
    all.show(<HandOverScreen />);
    await way(all, 'codes');
    await pick(all, starting('handOver:since.all'));
    await next(all);
    expect((await screen.findByRole('alert')).textContent).toBe(t('keep:codes.tooMany'));
    await press(all, t('common:back'));
    await pick(all, starting('handOver:since.twoWeeks'));
    await next(all);
    expect(await screen.findByRole('figure')).toBeTruthy();
  });

  test('entries that cannot be read go along as they are, and that is said', async () => {
    const all = await stage({ records: RECORDS });
    await set('demo-nela/2030-12', [{ kind: 'nonsense' }], all.notebook.shelf.log);
    all.show(<HandOverScreen />);
    await way(all, 'desk');
    await next(all);
    await ready();
    expect(screen.getByText(t('handOver:unreadableToo', { count: 1 }))).toBeTruthy();
    expect(read((await save(all)).bytes).odd).toEqual([{ kind: 'nonsense' }]);
  });

  test('after writing down that they are at the clinic today, the days up to now are still handed over', async () => {
    const today: LogRecord = { ...stamp('v2', '2031-03-04T14:00'), ...CHICAGO, kind: 'visit' };
    const all = await open([...RECORDS, visit, today]);
    await way(all, 'desk');
    await next(all);
    expect(read((await save(all)).bytes).from).toBe('2031-03-02');
  });
});

describe('the share sheet', () => {
  const shareSheet = (share: (data: ShareData) => Promise<void>, takes: (file: File) => boolean = () => true): void => {
    Object.defineProperty(navigator, 'canShare', { configurable: true, value: (data: ShareData) => data.files?.every(takes) ?? false });
    Object.defineProperty(navigator, 'share', { configurable: true, value: share });
  };
  const toTheFile = async (id: string): Promise<Stage> => {
    const all = await open();
    await way(all, id);
    await next(all);
    await ready();
    return all;
  };

  test('is offered only where it takes the files', async () => {
    await toTheFile('system');
    expect(screen.queryByRole('button', { name: t('handOver:send') })).toBeNull();
    shareSheet(
      async () => undefined,
      (file) => file.type === 'text/csv',
    );
    await toTheFile('system');
    expect(screen.queryByRole('button', { name: t('handOver:send') })).toBeNull();
    await toTheFile('tables');
    expect(screen.getByRole('button', { name: t('handOver:send') })).toBeTruthy();
  });

  test('is given the tables one by one, for it takes no archive', async () => {
    const shared: File[] = [];
    shareSheet(async ({ files = [] }) => void shared.push(...files));
    await press(await toTheFile('tables'), t('handOver:send'));
    await waitFor(() => expect(screen.getByRole('status').textContent).toBe(t('handOver:sent')));
    expect(shared.map((f) => [f.name, f.type])).toContainEqual(['checks.csv', 'text/csv']);
  });

  test('closed by the person, nothing is said; refused by the phone, saving is proposed', async () => {
    shareSheet(() => Promise.reject(new DOMException('closed', 'AbortError')));
    const all = await toTheFile('system');
    await press(all, t('handOver:send'));
    expect([screen.queryByRole('status'), screen.queryByRole('alert')]).toEqual([null, null]);
    shareSheet(() => Promise.reject(new DOMException('no', 'NotAllowedError')));
    await press(all, t('handOver:send'));
    expect((await screen.findByRole('alert')).textContent).toBe(t('handOver:notSent'));
    await press(all, t('handOver:save'));
    expect(screen.queryByRole('alert')).toBeNull();
    expect(saved).toHaveLength(1);
  });
});

describe('when something is wrong with the log', () => {
  test('entries that cannot be read are counted, and the file is made without them', async () => {
    const all = await stage({ records: RECORDS });
    await set('demo-nela/2030-12', [{ kind: 'nonsense' }, { kind: 'check' }], all.notebook.shelf.log);
    all.show(<HandOverScreen />);
    await way(all, 'system');
    await next(all);
    await ready();
    expect(screen.getByText(t('handOver:unreadable', { count: 2 }))).toBeTruthy();
  });

  test('a store that refuses is told, and nothing is made from half a log', async () => {
    const all = await stage({ records: RECORDS });
    vi.spyOn(all.notebook, 'wholeLog').mockRejectedValue(new Error('no'));
    all.show(<HandOverScreen />);
    expect((await screen.findByRole('alert')).textContent).toBe(t('handOver:notRead'));
    for (const button of within(screen.getByRole('list')).getAllByRole('button')) expect(button).toHaveProperty('disabled', true);
  });
});

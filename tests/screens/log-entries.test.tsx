// @vitest-environment happy-dom
import { Blob as NodeBlob } from 'node:buffer';
import { cleanup, screen, waitFor } from '@testing-library/preact';
import { afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import type { LogRecord } from '../../app/care/log/records.ts';
import type { Wound } from '../../app/care/plan/plan.ts';
import { EntryScreen } from '../../app/screens/log/entry.tsx';
import { entryLines, entrySubtitle } from '../../app/screens/log/entry-words.ts';
import { LogScreen } from '../../app/screens/log/log.tsx';
import { keepPhoto } from '../../app/store/photos.ts';
import { AREAS, loadAreas, t, words } from '../../app/words/i18n.ts';
import { woundName } from '../../app/words/names.ts';
import { check, measurement, mustBeRecords, stamp } from '../care/log/make.ts';
import { demoPlan, twoWoundPlan } from '../care/plan/plans.ts';
import { stage } from './stage.tsx';

beforeAll(async () => {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
});
afterEach(cleanup);

const weighing: LogRecord = { ...stamp('g1'), kind: 'weighing', wound: 'w1', dryG: 12.1, usedG: 19.3, stepG: 0.1, hours: 47 };
const photo: LogRecord = { ...stamp('f1'), kind: 'photo', wound: 'w1', photo: 'pic-1', widthPx: 1600, heightPx: 1200 };
const visit: LogRecord = { ...stamp('v1'), kind: 'visit', note: 'New boot.' };
const traced = measurement('m1', '2031-03-04T09:00', 0, 0, { lengthMm: undefined, widthMm: undefined, areaMm2: 120, method: 'trace' });

describe('records in the log', () => {
  test('tell in a line what they hold', () => {
    mustBeRecords([weighing, photo, visit, traced]);
    const line = (record: LogRecord) => entrySubtitle(record, demoPlan(), 'cm');
    expect(line(weighing)).toBe('dry 12.1 g, used 19.3 g');
    expect(line(photo)).toBeUndefined();
    expect(line(visit)).toBe('New boot.');
    expect(line(traced)).toBe('1.2 cm²');
    expect(line(measurement('m', '2031-03-04T09:00', 20, 10))).toBe('2 cm × 1 cm');
  });

  test('name their wound where there is more than one, and say so of one that the plan no longer has', () => {
    const plan = twoWoundPlan();
    const [one] = plan.wounds;
    const line = (own: string) => entrySubtitle({ ...photo, wound: own } as LogRecord, plan, 'cm');
    expect(line(one?.id ?? '')).toBe(woundName(one as Wound));
    expect(entrySubtitle({ ...weighing, wound: one?.id ?? '' } as LogRecord, plan, 'cm')).toBe(
      `${woundName(one as Wound)} · dry 12.1 g, used 19.3 g`,
    );
    expect(line('gone')).toBe(t('log:otherWound'));
    expect(entrySubtitle({ ...photo, wound: 'gone' } as LogRecord, demoPlan(), 'cm')).toBe(t('log:otherWound'));
  });

  test('a weighing tells all that was weighed, and no more than the difference is worked out', () => {
    expect(entryLines(weighing, 'cm').map((l) => l.value)).toEqual(['12.1 g', '19.3 g', '7.2 g', '47 hours', '0.1 g']);
    expect(entryLines({ ...weighing, hours: 1 } as LogRecord, 'cm')[3]?.value).toBe('1 hour');
  });

  test('a size tells how it was taken, its sides as far as they are known, and its area', () => {
    expect(entryLines(measurement('m', '2031-03-04T09:00', 20, 10, { depthMm: 3 }), 'cm').map((l) => l.value)).toEqual([
      t('log:method.ruler'),
      '2 cm',
      '1 cm',
      '0.3 cm',
      '1.6 cm²',
    ]);
    expect(entryLines(traced, 'in').map((l) => l.value)).toEqual([t('log:method.trace'), '0.19 in²']);
    expect(entryLines(check('c'), 'cm')).toEqual([]);
  });

  test('a photo is shown where its bytes are on this phone, and said to be gone where they are not', async () => {
    // The page's own Blob cannot be stored in this environment; that of Node can.
    vi.stubGlobal('Blob', NodeBlob);
    vi.stubGlobal('URL', Object.assign(URL, { createObjectURL: () => 'blob:picture', revokeObjectURL: () => undefined }));
    const all = await stage({ records: [photo] });
    all.show(<EntryScreen id="f1" />);
    await waitFor(() => expect(screen.getByText(t('log:photoGone'))).toBeTruthy());
    await keepPhoto(all.notebook.shelf, 'pic-1', new Blob(['x'], { type: 'image/jpeg' }));
    all.show(<EntryScreen id="f1" />);
    await waitFor(() => expect(screen.getByRole('img').getAttribute('alt')).toBe(t('log:photoAlt', { day: 'Mar 4, 2031' })));
    expect(screen.getByRole('img').getAttribute('src')).toBe('blob:picture');
    vi.unstubAllGlobals();
  });

  test('the log leads to the course once something is written', async () => {
    const all = await stage();
    all.show(<LogScreen />);
    // Taking the plan in was written down already.
    expect(screen.getByRole('link', { name: t('log:course') }).getAttribute('href')).toBe('#/course');
  });
});

// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from '@testing-library/preact';
import { afterEach, describe, expect, test } from 'vitest';
import type { LogRecord } from '../../app/care/log/records.ts';
import { MeasureScreen } from '../../app/screens/measure/measure.tsx';
import { t } from '../../app/words/i18n.ts';
import { stamp } from '../care/log/make.ts';
import { type Stage, stage } from './stage.tsx';

afterEach(cleanup);

const field = (key: string): HTMLElement => screen.getByRole('textbox', { name: t(key) });
const button = (name: string): HTMLElement => screen.getByRole('button', { name });
const doubt = (size: string, smaller: string): string => t('log:measureLong', { size, smaller });
const alerts = (): (string | null)[] => screen.queryAllByRole('alert').map((e) => e.textContent);

/** The last time, this wound was 2 cm by 1 cm. */
const LAST: LogRecord = {
  ...stamp('m1', '2031-02-25T09:00'),
  kind: 'measurement',
  wound: 'w1',
  method: 'ruler',
  lengthMm: 20,
  widthMm: 10,
};

async function measure(length: string, width: string, { unit = 'cm', records = [] }: { unit?: 'cm' | 'in'; records?: LogRecord[] } = {}) {
  const all = await stage({ records });
  await all.notebook.saveSettings({ lengthUnit: unit });
  all.show(<MeasureScreen />);
  await all.user.type(field('log:measureLength'), length);
  await all.user.type(field('log:measureWidth'), width);
  await all.user.click(button(t('common:save')));
  return all;
}

/** What was written since `LAST`, once it is said to be saved. */
async function saved({ written }: Stage): Promise<[number | undefined, number | undefined]> {
  await waitFor(() => expect(screen.getByRole('status').textContent).toBe(t('log:measureSaved')));
  const record = written('measurement').find((m) => m.id !== LAST.id);
  return [record?.lengthMm, record?.widthMm];
}

describe('measuring a wound', () => {
  test('what is saved is said to be, and only then does the page leave', async () => {
    const all = await measure('1.2', '2.5', { records: [LAST] });
    expect(await saved(all)).toEqual([25, 12]);
    expect(location.hash).not.toContain('log');
    await all.user.click(button(t('common:done')));
    expect(location.hash).toBe('#/log');
    expect(all.written('measurement')).toHaveLength(2);
  });

  test('a second number that is larger is kept as the longest line, and that is said', async () => {
    const all = await measure('1.2', '2.5');
    expect(await saved(all)).toEqual([25, 12]);
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe(t('log:measureSavedTitle'));
    expect(screen.getByText('Longest 2.5 cm, across 1.2 cm.')).toBeTruthy();
    expect(screen.getByText(t('log:measureTurned'))).toBeTruthy();
  });

  test('typed the right way round, nothing is said of turning', async () => {
    await saved(await measure('2.5', '1.2'));
    expect(screen.getByText('Longest 2.5 cm, across 1.2 cm.')).toBeTruthy();
    expect(screen.queryByText(t('log:measureTurned'))).toBeNull();
  });

  test('the page says first that no dressing comes off for it', async () => {
    const { show } = await stage();
    show(<MeasureScreen />);
    expect(screen.getByRole('heading', { level: 1 }).nextElementSibling?.textContent).toBe(t('log:measureWhen'));
  });

  test.each([
    ['cm', '40', true],
    ['cm', '40.1', false],
    ['in', '15.7', true],
    ['cm', '0', false],
  ] as const)('the limit is the one the message tells: %s %s', async (unit, length, passes) => {
    await measure(length, '1', { unit });
    if (passes) expect(screen.queryByText(t('log:measureRange'))).toBeNull();
    else expect(alerts()).toEqual([t('log:measureRange')]);
  });

  test('40 cm × 25 cm on a toe: each is asked about before anything is written', async () => {
    const all = await measure('40', '25');
    expect(alerts()).toEqual([doubt('40 cm', '4 cm')]);
    await all.user.click(button(t('log:measureYes', { smaller: '4 cm' })));
    expect(alerts()).toEqual([doubt('25 cm', '2.5 cm')]);
    expect(all.written('measurement')).toEqual([]);
    await all.user.click(button(t('log:measureYes', { smaller: '2.5 cm' })));
    expect(await saved(all)).toEqual([40, 25]);
  });

  test('a person who stands by the number is believed, and asked once', async () => {
    const all = await measure('16', '1');
    await all.user.click(button(t('log:measureNo', { size: '16 cm' })));
    expect(await saved(all)).toEqual([160, 10]);
  });

  test('15 cm is asked about only where it is more than three times the last size', async () => {
    expect(await saved(await measure('15', '1'))).toEqual([150, 10]);
    cleanup();
    await measure('15', '1', { records: [LAST] });
    expect(alerts()).toEqual([doubt('15 cm', '1.5 cm')]);
  });

  test('three times the last length and width is not asked about', async () => {
    expect(await saved(await measure('6', '3', { records: [LAST] }))).toEqual([60, 30]);
  });

  test.each([
    { length: '6.1', width: '3', size: '6.1 cm', smaller: '0.61 cm' },
    { length: '6', width: '3.1', size: '3.1 cm', smaller: '0.31 cm' },
  ])('more than that is: $length × $width', async ({ length, width, size, smaller }) => {
    const { written } = await measure(length, width, { records: [LAST] });
    expect(alerts()).toEqual([doubt(size, smaller)]);
    expect(written('measurement')).toHaveLength(1);
  });

  test('typing another number takes the question back', async () => {
    const { user } = await measure('40', '2');
    await user.clear(field('log:measureLength'));
    expect(alerts()).toEqual([]);
    expect(button(t('common:save'))).toBeTruthy();
  });

  test('in inches the question is in inches', async () => {
    await measure('11', '1', { unit: 'in' });
    expect(alerts()).toEqual([doubt('11 in', '1.1 in')]);
  });
});

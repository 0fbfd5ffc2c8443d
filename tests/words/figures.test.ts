import { beforeAll, describe, expect, test } from 'vitest';
import type { LocalDay } from '../../app/care/schedule/day.ts';
import {
  formatCelsius,
  formatDays,
  formatDifference,
  formatDuration,
  formatGlucose,
  formatShare,
  formatShortDay,
} from '../../app/words/figures.ts';
import { formatNumber } from '../../app/words/format.ts';
import { hasWords, inLanguage, loadAreas, spoken, t, words } from '../../app/words/i18n.ts';

const march = (...days: number[]) => days.map((d) => `2031-03-${String(d).padStart(2, '0')}` as LocalDay);
/** Intl sets thin and narrow spaces; they are spaces here. */
const plain = (text: string): string => text.replace(/[\u2009\u202f\u00a0]/g, ' ');

beforeAll(async () => {
  await words.changeLanguage('en');
  await loadAreas(['common', 'visit', 'check']);
  await loadAreas(['common', 'visit', 'check'], 'es');
});

describe('days', () => {
  test('that follow each other are one span, over the end of a month too', () => {
    expect(plain(formatDays(march(3, 4, 5, 9)))).toBe('Mar 3 – 5, Mar 9');
    expect(plain(formatDays(['2031-02-27', '2031-02-28', '2031-03-01'] as LocalDay[]))).toBe('Feb 27 – Mar 1');
    expect(formatDays([])).toBe('');
  });

  test('beyond so many spans are counted, none is lost', () => {
    expect(plain(formatDays(march(1, 3, 5, 6, 7, 9), 2))).toBe('Mar 1, Mar 3, and 4 more days');
  });
});

describe('figures', () => {
  test('times stand in the unit that says them best', () => {
    expect([0, 1, 119, 120, 47 * 60, 48 * 60].map(formatDuration)).toEqual([
      '0 minutes',
      '1 minute',
      '119 minutes',
      '2 hours',
      '47 hours',
      '2 days',
    ]);
  });

  test('temperatures and their differences: 38 °C are 100.4 °F [EV-FEV-05], a difference of 2.2 °C is one of 4 °F [EV-TMP-14]', () => {
    expect([formatCelsius(38, '[degF]'), formatDifference(2.2, '[degF]'), formatDifference(2.2, 'Cel')]).toEqual([
      '100.4 °F',
      '4 °F',
      '2.2 °C',
    ]);
  });

  test('glucose: 300 mg/dL are 16.7 mmol/L [EV-INF-24: 18.016 mg/dL to one mmol/L]', () => {
    expect([formatGlucose(300, 'mg/dL'), formatGlucose(300, 'mmol/L')]).toEqual(['300 mg/dL', '16.7 mmol/L']);
  });

  test('shares are whole percentages', () => {
    expect([formatShare(136 / 352), formatShare(0.5)]).toEqual(['39%', '50%']);
  });
});

describe('another language, for as long as something is said in it', () => {
  test('words, numbers and dates are all in it, and the app is in its own again afterwards', () => {
    const say = () => [t('common:back'), formatNumber(1.5), formatShortDay('2031-03-04' as LocalDay), t('visit:days', { count: 2 })];
    expect(inLanguage('es', say)).toEqual(['Atrás', '1,5', '4 mar', '2 días']);
    expect(say()).toEqual(['Back', '1.5', 'Mar 4', '2 days']);
  });

  test('even when what is said fails', () => {
    expect(() =>
      inLanguage('es', () => {
        throw new Error('no words');
      }),
    ).toThrow('no words');
    expect(spoken()).toBe('en');
  });

  test('words of an area that is not loaded in it are not taken from the app’s own', async () => {
    await loadAreas(['supplies']);
    expect([hasWords('supplies:title'), inLanguage('es', () => hasWords('supplies:title'))]).toEqual([true, false]);
  });
});

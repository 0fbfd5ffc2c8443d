import { beforeAll, describe, expect, test } from 'vitest';
import type { DrainagePoint, TemperaturePoint } from '../../../app/care/log/series.ts';
import type { LocalDay } from '../../../app/care/schedule/day.ts';
import {
  drainageChart,
  expectedBands,
  glucoseChart,
  painChart,
  rangeText,
  sizeChart,
  temperatureChart,
  warmthChart,
} from '../../../app/parts/chart/wound-charts.ts';
import { AREAS, loadAreas, t, words } from '../../../app/words/i18n.ts';

beforeAll(async () => {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
});

const span = { from: '2031-03-01' as LocalDay, to: '2031-03-14' as LocalDay };
const at = (date: number, n = 0) => {
  const day = `2031-03-${String(date).padStart(2, '0')}` as LocalDay;
  return { record: `r${date}-${n}`, at: Date.parse(`${day}T09:00:00Z`) + n, day, zone: 'UTC' };
};
const drained = (date: number, amount: DrainagePoint['amount'], expected: DrainagePoint['expected'] = ['light', 'moderate']) => ({
  ...at(date),
  amount,
  expected,
  stopped: false,
});
const only = (chart: { series: readonly { points: readonly { value: number | undefined; said: string }[] }[] }) =>
  chart.series.flatMap((s) => s.points.map((p) => [p.value, p.said]));

describe('the size', () => {
  test('is in the person’s unit, from zero, each way of measuring by itself', () => {
    const points = [
      { ...at(1), areaMm2: 276, method: 'clinic' as const },
      { ...at(8), areaMm2: 157, method: 'ruler' as const },
    ];
    const chart = sizeChart(points, span, 'cm');
    expect(chart.fromZero).toBe(true);
    expect(chart.series.filter((s) => s.points.length > 0).map((s) => [s.key, s.points[0]?.said])).toEqual([
      ['ruler', '1.6 cm²'],
      ['clinic', '2.8 cm²'],
    ]);
    expect(new Set(chart.series.map((s) => s.look)).size).toBe(3);
    // One inch is 25.4 mm, so a square inch 645.16 mm² (international inch).
    expect(sizeChart([{ ...at(1), areaMm2: 645.16, method: 'ruler' }], span, 'in').series[0]?.points[0]?.value).toBeCloseTo(1);
    // The smallest wounds do not round to nothing.
    expect(sizeChart([{ ...at(1), areaMm2: 5, method: 'ruler' }], span, 'in').series[0]?.points[0]?.said).toBe('0.008 in²');
  });
});

describe('the fluid', () => {
  test('stands on four rows; not sure and not seen are told apart and have no value', () => {
    const chart = drainageChart([drained(1, 'none'), drained(3, 'heavy'), drained(5, 'unsure'), drained(7, undefined)], span, 4);
    expect(chart.rows).toHaveLength(4);
    expect(only(chart)).toEqual([
      [0, t('chart:drainage.row.none')],
      [3, t('chart:drainage.row.heavy')],
      [undefined, t('chart:unsure')],
      [undefined, t('chart:drainage.notSeen')],
    ]);
    expect(chart.series[0]?.points[0]?.note).toBe('a little to some');
  });

  test('a plan that expects another range begins its own band on the day of its first change', () => {
    const points = [
      drained(1, 'light'),
      drained(3, 'light'),
      drained(5, 'light', ['none', 'light']),
      drained(7, 'none', ['none', 'light']),
    ];
    expect(expectedBands(points, span.to)).toEqual([
      { from: '2031-03-01', to: '2031-03-04', low: 1, high: 2, said: 'a little to some' },
      { from: '2031-03-05', to: '2031-03-14', low: 0, high: 1, said: 'none to a little' },
    ]);
  });

  test('two plans on one day: the later one has it; no plan, no band', () => {
    const points = [drained(1, 'light'), { ...drained(1, 'light', ['none', 'none']), at: at(1).at + 5 }];
    expect(expectedBands(points, span.to)).toEqual([{ from: '2031-03-01', to: '2031-03-14', low: 0, high: 0, said: 'none' }]);
    const unknown: DrainagePoint = { ...at(2), amount: 'light', expected: undefined, stopped: false };
    expect(expectedBands([drained(1, 'light'), unknown], span.to)).toEqual([
      { from: '2031-03-01', to: '2031-03-01', low: 1, high: 2, said: 'a little to some' },
    ]);
    expect(expectedBands([unknown], span.to)).toEqual([]);
  });

  test('a range of one amount is said in one word', () => {
    expect(rangeText(['none', 'none'])).toBe(t('chart:drainage.row.none'));
  });
});

describe('warmth and temperature', () => {
  test('a limit of 2.2 °C is 4 °F apart, without the 32', () => {
    // [EV-TMP-14: 2.2 °C = 3.96 °F]
    const chart = warmthChart([{ ...at(1), differenceC: 1, place: 'heel', pairs: 1 }], span, '[degF]', 2.2);
    expect(chart.limits?.[0]?.value).toBeCloseTo(3.96);
    expect(chart.limits?.[0]?.name).toContain('4 °F');
    expect(only(chart)).toEqual([[1.8, '1.8 °F']]);
  });

  const reading = (date: number, tempC: number | undefined, site?: TemperaturePoint['site'], felt?: 'no' | 'unsure' | 'yes') =>
    ({ ...at(date), tempC, site, feelsFeverish: felt }) as TemperaturePoint;

  test('each place of measuring is a series; the armpit has its own, lower limit', () => {
    const chart = temperatureChart([reading(1, 36.8, 'mouth'), reading(2, 37.6, 'armpit')], span, 'Cel', 38);
    expect(chart.series.map((s) => s.key)).toEqual(['mouth', 'armpit', 'felt']);
    // [EV-FEV-01: 38.0 in the mouth, 37.5 in the armpit by the rule table]
    expect(chart.limits?.map((l) => l.value)).toEqual([38, 37.5]);
    expect(temperatureChart([reading(2, 37.6, 'armpit')], span, 'Cel', 38).limits?.map((l) => l.value)).toEqual([37.5]);
    expect(temperatureChart([reading(2, 36.6, 'ear')], span, '[degF]', 38).limits?.map((l) => l.value)).toEqual([100.4]);
  });

  test('a check without a thermometer is a point without a value, in words', () => {
    const chart = temperatureChart([reading(1, 36.8, 'mouth'), reading(2, undefined, undefined, 'yes')], span, 'Cel', 38);
    expect(only(chart)).toEqual([
      [36.8, '36.8 °C'],
      [undefined, t('check:temperature.said.yes')],
    ]);
    expect(only(temperatureChart([reading(2, undefined, undefined, 'no')], span, 'Cel', 38))).toEqual([
      [undefined, t('check:temperature.said.no')],
    ]);
  });
});

describe('pain and blood sugar', () => {
  test('pain stands on its rows, mildest lowest; not sure has no value', () => {
    const chart = painChart(
      [
        { ...at(1), pain: 'severe' },
        { ...at(2), pain: 'unsure' },
      ],
      span,
    );
    expect(only(chart)).toEqual([
      [2, t('chart:pain.row.severe')],
      [undefined, t('chart:unsure')],
    ]);
  });

  test('blood sugar has the limits of the rules in the person’s unit', () => {
    const chart = glucoseChart([{ ...at(1), mgdl: 180 }], span, 'mmol/L', 300);
    // [EV-INF-24: 70 → 3.89, 180 → 9.99, 300 → 16.65 mmol/L]
    expect(chart.limits?.map((l) => l.value.toFixed(2))).toEqual(['3.89', '16.65']);
    expect(only(chart)).toEqual([[expect.closeTo(9.99, 2), '10 mmol/L']]);
  });
});

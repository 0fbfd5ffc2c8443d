import { type GlucoseUnit, MGDL_PER_MMOL, TEMPERATURE_SITES, type TemperatureUnit } from '../../care/check/answers.ts';
import { BANDS, bandRank, question } from '../../care/check/questions.ts';
import { ARMPIT_FEVER_LOWER_C } from '../../care/escalation/facts.ts';
import { GLUCOSE_LOW_MGDL } from '../../care/escalation/limits.ts';
import { MEASURE_METHODS, type MeasureMethod } from '../../care/log/records.ts';
import type {
  AreaPoint,
  DrainagePoint,
  GlucosePoint,
  PainPoint,
  SeriesPoint,
  TemperaturePoint,
  TemperatureSite,
  WarmthPoint,
} from '../../care/log/series.ts';
import { addDays, type LocalDay } from '../../care/schedule/day.ts';
import { areaIn, areaSign, formatArea, formatReading, unitSign } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import type { ChartProps } from './chart.tsx';
import { type ChartPoint, inOrder } from './points.ts';
import type { ChartBand, ChartSeries, Look } from './shape.ts';

/**
 * The charts of a wound's course, each from one series of the log. The page
 * that shows them loads the words of the areas `chart` and `check`.
 */

/** The days to show, both included. */
export interface Span {
  from: LocalDay;
  to: LocalDay;
}

/** A size is taken about once a week: three missing are a pause (our judgement). */
const SIZE_GAP_DAYS = 21;
/** A check is made every day: more than two missing are a pause (our judgement). */
const CHECK_GAP_DAYS = 3;

const base = (p: SeriesPoint, n: number): Pick<ChartPoint, 'key' | 'day' | 'at' | 'zone'> => ({
  key: `${p.record ?? p.day}-${n}`,
  day: p.day,
  at: p.at,
  zone: p.zone,
});

const METHOD_LOOKS: Record<MeasureMethod, Look> = { ruler: 'disc', clinic: 'square', trace: 'diamond' };

/** Area over time. Each way of measuring is a series of its own. */
export function sizeChart(points: readonly AreaPoint[], span: Span, unit: 'cm' | 'in'): ChartProps {
  return {
    ...span,
    title: t('chart:size.title'),
    valueHeading: t('chart:size.area'),
    seriesHeading: t('chart:size.how'),
    unit: areaSign(unit),
    fromZero: true,
    gapDays: SIZE_GAP_DAYS,
    series: MEASURE_METHODS.map(
      (method): ChartSeries => ({
        key: method,
        look: METHOD_LOOKS[method],
        name: t(`chart:size.method.${method}`),
        points: points
          .filter((p) => p.method === method)
          .map((p, n) => ({ ...base(p, n), value: areaIn(p.areaMm2, unit), said: formatArea(p.areaMm2, unit) })),
      }),
    ),
  };
}

/** A range of amounts in words: one word where it is one amount. */
export const rangeText = ([low, high]: readonly [(typeof BANDS)[number], (typeof BANDS)[number]]): string =>
  low === high
    ? t(`chart:drainage.row.${low}`)
    : t('chart:drainage.range', { from: t(`chart:drainage.row.${low}`), to: t(`chart:drainage.row.${high}`) });

/** What a plan expected, from the first change under it to the day before the first one under another. */
export function expectedBands(points: readonly DrainagePoint[], to: LocalDay): ChartBand[] {
  const bands: ChartBand[] = [];
  let open: ChartBand | undefined;
  for (const { day, expected } of inOrder(points)) {
    const said = expected && rangeText(expected);
    if (open && said === open.said) continue;
    // Two plans on one day: the day belongs to the later one.
    if (open) open.to = addDays(day, -1);
    open = expected && { from: day, to, low: bandRank(expected[0]), high: bandRank(expected[1]), said: rangeText(expected) };
    if (open) bands.push(open);
  }
  return bands.filter((b) => b.from <= b.to);
}

/** A pause of more than this many times the plan's interval breaks the line of changes (our judgement). */
const INTERVALS_TO_PAUSE = 2;
const LEAST_PAUSE_DAYS = 3;

/** Days of pause that break the line of changes. */
export const pauseDays = (changeEveryHours: number): number =>
  Math.max(LEAST_PAUSE_DAYS, Math.ceil((INTERVALS_TO_PAUSE * changeEveryHours) / 24));

/** The amount of fluid by change, over what the plan expected. @param gapDays a pause of more days breaks the line. */
export function drainageChart(points: readonly DrainagePoint[], span: Span, gapDays: number): ChartProps {
  return {
    ...span,
    title: t('chart:drainage.title'),
    valueHeading: t('chart:drainage.amount'),
    noteHeading: t('chart:drainage.expected'),
    rows: BANDS.map((band) => t(`chart:drainage.row.${band}`)),
    bands: expectedBands(points, span.to),
    bandName: t('chart:drainage.band'),
    gapDays,
    series: [
      {
        key: 'amount',
        look: 'disc',
        points: points.map((p, n) => {
          const amount = p.amount === 'unsure' ? undefined : p.amount;
          return {
            ...base(p, n),
            value: amount && bandRank(amount),
            said: amount ? t(`chart:drainage.row.${amount}`) : t(p.amount === 'unsure' ? 'chart:unsure' : 'chart:drainage.notSeen'),
            note: p.expected && rangeText(p.expected),
          };
        }),
      },
    ],
  };
}

/** °C in the person's unit; a difference without the 32 [EV-TMP-14]. */
const degrees = (celsius: number, unit: TemperatureUnit): number => (unit === 'Cel' ? celsius : (celsius * 9) / 5 + 32);
const degreesApart = (celsius: number, unit: TemperatureUnit): number => (unit === 'Cel' ? celsius : (celsius * 9) / 5);

/** A difference of temperatures given in °C, as the person reads it. */
export const differenceText = (celsius: number, unit: TemperatureUnit): string => formatReading(degreesApart(celsius, unit), unit);
/** A temperature given in °C, as the person reads it. */
export const temperatureText = (celsius: number, unit: TemperatureUnit): string => formatReading(degrees(celsius, unit), unit);

/** The largest measured difference between the feet. @param limitC above this the rules take a place for warm. */
export function warmthChart(points: readonly WarmthPoint[], span: Span, unit: TemperatureUnit, limitC: number): ChartProps {
  return {
    ...span,
    title: t('chart:warmth.title'),
    valueHeading: t('chart:warmth.difference'),
    noteHeading: t('chart:warmth.place'),
    unit: unitSign(unit),
    fromZero: true,
    gapDays: CHECK_GAP_DAYS,
    limits: [{ value: degreesApart(limitC, unit), name: t('chart:limit', { limit: differenceText(limitC, unit) }) }],
    series: [
      {
        key: 'difference',
        look: 'disc',
        points: points.map((p, n) => ({
          ...base(p, n),
          value: degreesApart(p.differenceC, unit),
          said: differenceText(p.differenceC, unit),
          note: p.place,
        })),
      },
    ],
  };
}

const SITE_LOOKS: Record<TemperatureSite, Look> = { mouth: 'disc', ear: 'ring', forehead: 'square', armpit: 'diamond' };

/**
 * Body temperature, each place of measuring as a series of its own, for an
 * armpit reads lower [EV-FEV-01]. @param feverC from here on it is a fever.
 */
export function temperatureChart(points: readonly TemperaturePoint[], span: Span, unit: TemperatureUnit, feverC: number): ChartProps {
  const sites = TEMPERATURE_SITES.filter((site) => points.some((p) => p.site === site && p.day >= span.from && p.day <= span.to));
  const armpitC = feverC - ARMPIT_FEVER_LOWER_C;
  const limit = (celsius: number, key: string) => ({
    value: degrees(celsius, unit),
    name: t(key, { limit: temperatureText(celsius, unit) }),
  });
  const felt = points.filter((p) => p.tempC === undefined);
  const toPoint = (p: TemperaturePoint, n: number): ChartPoint => ({
    ...base(p, n),
    value: p.tempC === undefined ? undefined : degrees(p.tempC, unit),
    said: p.tempC === undefined ? t(`check:temperature.said.${p.feelsFeverish ?? 'unsure'}`) : temperatureText(p.tempC, unit),
    note: p.site && t(`check:temperature.site.${p.site}`),
  });
  return {
    ...span,
    title: t('chart:temperature.title'),
    valueHeading: t('chart:temperature.value'),
    noteHeading: t('chart:temperature.where'),
    unit: unitSign(unit),
    gapDays: CHECK_GAP_DAYS,
    limits: [
      ...(sites.length === 1 && sites[0] === 'armpit' ? [] : [limit(feverC, 'chart:temperature.fever')]),
      ...(sites.includes('armpit') ? [limit(armpitC, 'chart:temperature.feverArmpit')] : []),
    ],
    series: [
      ...sites.map(
        (site): ChartSeries => ({
          key: site,
          look: SITE_LOOKS[site],
          name: t(`check:temperature.site.${site}`),
          // A check without a thermometer breaks the line of the only place there is; it belongs to none of several.
          points: points.filter((p) => p.site === site || (sites.length === 1 && p.tempC === undefined)).map(toPoint),
        }),
      ),
      ...(sites.length === 1 ? [] : [{ key: 'felt', look: 'disc' as const, points: felt.map(toPoint) }]),
    ],
  };
}

/** How the pain was, by check. */
export function painChart(points: readonly PainPoint[], span: Span): ChartProps {
  const codes = question('pain').codes;
  return {
    ...span,
    title: t('chart:pain.title'),
    valueHeading: t('chart:pain.value'),
    rows: codes.map((code) => t(`chart:pain.row.${code}`)),
    gapDays: CHECK_GAP_DAYS,
    series: [
      {
        key: 'pain',
        look: 'disc',
        points: points.map((p, n) => ({
          ...base(p, n),
          value: p.pain === 'unsure' ? undefined : codes.indexOf(p.pain),
          said: p.pain === 'unsure' ? t('chart:unsure') : t(`chart:pain.row.${p.pain}`),
        })),
      },
    ],
  };
}

const glucoseIn = (mgdl: number, unit: GlucoseUnit): number => (unit === 'mg/dL' ? mgdl : mgdl / MGDL_PER_MMOL);
/** Blood sugar given in mg/dL, as the person reads it. */
export const glucoseText = (mgdl: number, unit: GlucoseUnit): string => formatReading(glucoseIn(mgdl, unit), unit);

/** Blood sugar, between the limit for low and the plan's limit for high, mg/dL. */
export function glucoseChart(points: readonly GlucosePoint[], span: Span, unit: GlucoseUnit, highMgdl: number): ChartProps {
  const limit = (mgdl: number, key: string) => ({ value: glucoseIn(mgdl, unit), name: t(key, { limit: glucoseText(mgdl, unit) }) });
  return {
    ...span,
    title: t('chart:glucose.title'),
    valueHeading: t('chart:glucose.title'),
    unit: unitSign(unit),
    gapDays: CHECK_GAP_DAYS,
    limits: [limit(GLUCOSE_LOW_MGDL, 'chart:glucose.low'), limit(highMgdl, 'chart:glucose.high')],
    series: [
      {
        key: 'glucose',
        look: 'disc',
        points: points.map((p, n) => ({ ...base(p, n), value: glucoseIn(p.mgdl, unit), said: glucoseText(p.mgdl, unit) })),
      },
    ],
  };
}

import { question } from '../../care/check/questions.ts';
import type { Thresholds } from '../../care/escalation/limits.ts';
import type { GlucosePoint, PainPoint, TemperaturePoint, WarmthPoint } from '../../care/log/series.ts';
import { Chart } from '../../parts/chart/chart.tsx';
import {
  differenceText,
  glucoseChart,
  glucoseText,
  painChart,
  temperatureChart,
  temperatureText,
  warmthChart,
} from '../../parts/chart/wound-charts.ts';
import { formatDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import type { Units } from '../units.ts';
import { countsText, nothingIn, Part, type PartProps } from './part.tsx';
import { within } from './period.ts';

interface Props<P> extends PartProps {
  points: readonly P[];
  units: Units;
  limits: Thresholds;
}

const short = (p: { day: Parameters<typeof formatDay>[0] }): string => formatDay(p.day, 'short');

/** The largest by a number; the earliest of equals. */
const largest = <P,>(points: readonly P[], by: (p: P) => number): P | undefined =>
  points.reduce<P | undefined>((a, b) => (a === undefined || by(b) > by(a) ? b : a), undefined);

/** Measured warmth against the other foot. */
export function WarmthPart({ points, units, limits, ...when }: Props<WarmthPoint>) {
  const shown = within(points, when.span);
  const last = shown.at(-1);
  const most = largest(shown, (p) => p.differenceC);
  const say = (p: WarmthPoint) => ({ day: short(p), difference: differenceText(p.differenceC, units.temperature), place: p.place });
  return (
    <Part
      title={t('chart:warmth.title')}
      said={
        last && most
          ? [t('course:warmth.last', say(last)), ...(most === last ? [] : [t('course:warmth.most', say(most))])]
          : nothingIn(points, when)
      }
    >
      {last && <Chart {...warmthChart(points, when.span, units.temperature, limits.warmthDifferenceC)} />}
      {last && <p class="hint">{t('course:warmth.how')}</p>}
    </Part>
  );
}

/** Body temperature. A normal one clears nothing, and the page says so. */
export function TemperaturePart({ points, units, limits, ...when }: Props<TemperaturePoint>) {
  const shown = within(points, when.span);
  const read = shown.filter((p) => p.tempC !== undefined);
  const last = read.at(-1);
  const most = largest(read, (p) => p.tempC ?? 0);
  const without = shown.length - read.length;
  const say = (p: TemperaturePoint) => ({
    day: short(p),
    reading: temperatureText(p.tempC ?? 0, units.temperature),
    where: t(`check:temperature.site.${p.site ?? 'mouth'}`),
  });
  const measured =
    last && most ? [t('course:temperature.last', say(last)), ...(most === last ? [] : [t('course:temperature.most', say(most))])] : [];
  return (
    <Part
      title={t('chart:temperature.title')}
      said={
        shown.length > 0
          ? [...measured, ...(without > 0 ? [t('course:temperature.without', { count: without })] : [])]
          : nothingIn(points, when)
      }
    >
      {shown.length > 0 && <Chart {...temperatureChart(points, when.span, units.temperature, limits.feverC)} />}
      <p class="hint">{t('course:temperature.normal')}</p>
    </Part>
  );
}

/** Pain as answered. */
export function PainPart({ points, ...when }: PartProps & { points: readonly PainPoint[] }) {
  const shown = within(points, when.span);
  const answers = countsText(
    [...question('pain').codes, 'unsure'],
    shown.map((p) => p.pain),
    (code) => t(code === 'unsure' ? 'chart:unsure' : `chart:pain.row.${code}`),
  );
  return (
    <Part
      title={t('chart:pain.title')}
      said={shown.length > 0 ? [t('course:pain.answers', { count: shown.length, answers })] : nothingIn(points, when)}
    >
      {shown.length > 0 && <Chart {...painChart(points, when.span)} />}
    </Part>
  );
}

/** Blood sugar, where the plan asks for it. */
export function GlucosePart({ points, units, limits, ...when }: Props<GlucosePoint>) {
  const shown = within(points, when.span);
  const last = shown.at(-1);
  const say = (p: GlucosePoint) => ({ day: short(p), reading: glucoseText(p.mgdl, units.glucose) });
  const [low, high] = [largest(shown, (p) => -p.mgdl), largest(shown, (p) => p.mgdl)];
  return (
    <Part
      title={t('chart:glucose.title')}
      said={
        last && low && high
          ? [
              t('course:glucose.last', say(last)),
              ...(shown.length > 1
                ? [
                    t('course:glucose.lowHigh', {
                      low: say(low).reading,
                      lowDay: say(low).day,
                      high: say(high).reading,
                      highDay: say(high).day,
                    }),
                  ]
                : []),
            ]
          : nothingIn(points, when)
      }
    >
      {last && <Chart {...glucoseChart(points, when.span, units.glucose, limits.glucoseHighMgdl)} />}
    </Part>
  );
}

import type { AreaPoint } from '../../care/log/series.ts';
import { Chart } from '../../parts/chart/chart.tsx';
import { sizeChart } from '../../parts/chart/wound-charts.ts';
import { formatArea, formatDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { nothingIn, Part, type PartProps } from './part.tsx';
import { within } from './period.ts';

/** The last size in this time, and the first that was taken the same way. */
function sizeText(points: readonly AreaPoint[], unit: 'cm' | 'in'): string[] {
  const last = points.at(-1);
  if (!last) return [];
  const first = points.find((p) => p.method === last.method);
  const say = (p: AreaPoint) => ({ day: formatDay(p.day, 'short'), area: formatArea(p.areaMm2, unit) });
  return [
    t(`course:size.last.${last.method}`, say(last)),
    ...(first && first !== last ? [t('course:size.first', say(first))] : []),
    ...(points.some((p) => p.method !== last.method) ? [t('course:size.mixed')] : []),
  ];
}

/** Size over time, and how to take the next one where there are few. */
export function SizePart({ points, unit, ...when }: PartProps & { points: readonly AreaPoint[]; unit: 'cm' | 'in' }) {
  const shown = within(points, when.span);
  const said = shown.length > 0 ? sizeText(shown, unit) : nothingIn(points, when);
  return (
    <Part title={t('chart:size.title')} said={said}>
      {/* Findings about the size stand here, one sentence each, between what was measured and the picture. */}
      {shown.length > 0 && <Chart {...sizeChart(points, when.span, unit)} />}
      {shown.length > 0 && <p class="hint">{t('course:size.oval')}</p>}
      {!when.isOver && (
        <>
          {shown.length < 2 && <p>{t('course:size.few')}</p>}
          <div class="contents">
            <a href="#/measure">{t('course:size.measure')}</a>
          </div>
        </>
      )}
    </Part>
  );
}

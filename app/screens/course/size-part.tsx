import type { Healing } from '../../care/healing/healing.ts';
import type { AreaPoint } from '../../care/log/series.ts';
import { Chart } from '../../parts/chart/chart.tsx';
import { sizeChart } from '../../parts/chart/wound-charts.ts';
import { sizeFindings } from '../../parts/size-findings.ts';
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

interface Props extends PartProps {
  points: readonly AreaPoint[];
  unit: 'cm' | 'in';
  /** Over all of the wound's time, whatever period is shown. */
  healing: Healing;
}

/** Size over time, what it says, and how to take the next one where there are few. */
export function SizePart({ points, unit, healing, ...when }: Props) {
  const shown = within(points, when.span);
  const said = shown.length > 0 ? [...sizeText(shown, unit), ...sizeFindings(healing)] : nothingIn(points, when);
  return (
    <Part title={t('chart:size.title')} said={said}>
      {shown.length > 0 && <Chart {...sizeChart(points, when.span, unit)} />}
      {shown.length > 0 && <p class="hint">{t('course:size.oval')}</p>}
      {!when.isOver && (
        <>
          {shown.length < 2 && <p>{t('course:size.few')}</p>}
          <div class="contents">
            <a href="#/measure">{t('course:size.measure')}</a>
            <a href="#/photos">{t('course:size.photos')}</a>
          </div>
        </>
      )}
    </Part>
  );
}

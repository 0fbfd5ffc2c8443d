import { BANDS } from '../../care/check/questions.ts';
import type { Drainage } from '../../care/drainage/drainage.ts';
import type { DrainagePoint } from '../../care/log/series.ts';
import type { Wound } from '../../care/plan/plan.ts';
import { Chart } from '../../parts/chart/chart.tsx';
import { drainageChart, rangeText } from '../../parts/chart/wound-charts.ts';
import { fitText, weighedText } from '../../parts/drainage-findings.ts';
import { formatDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { countsText, nothingIn, Part, type PartProps } from './part.tsx';
import { within } from './period.ts';

interface Props extends PartProps {
  points: readonly DrainagePoint[];
  wound: Wound;
  /** A pause of more days breaks the line. */
  gapDays: number;
  drainage: Drainage;
}

function drainageText(points: readonly DrainagePoint[], wound: Wound, isOver: boolean): string[] {
  const amounts = countsText(
    BANDS,
    points.map((p) => p.amount),
    (band) => t(`chart:drainage.row.${band}`),
  );
  const unknown = points.filter((p) => p.amount === undefined || p.amount === 'unsure').length;
  const stopped = points.filter((p) => p.stopped).length;
  return [
    [
      t('course:drainage.changes', { count: points.length - stopped }),
      ...(amounts ? [t('course:drainage.amounts', { amounts })] : []),
    ].join(' '),
    ...(stopped > 0 ? [t('course:drainage.stopped', { count: stopped })] : []),
    ...(unknown > 0 ? [t('course:drainage.unknown', { count: unknown })] : []),
    ...(isOver ? [] : [t('course:drainage.expected', { range: rangeText(wound.expectedDrainage) })]),
  ];
}

/** Fluid by change, and the way to weigh a dressing. */
export function DrainagePart({ points, wound, gapDays, drainage, ...when }: Props) {
  const shown = within(points, when.span);
  const weighed = drainage.weighed.at(-1);
  return (
    <Part title={t('chart:drainage.title')} said={shown.length > 0 ? drainageText(shown, wound, when.isOver) : nothingIn(points, when)}>
      {drainage.finding && <p class="notice">{fitText(drainage.finding)}</p>}
      {shown.length > 0 && <Chart {...drainageChart(points, when.span, gapDays)} />}
      {weighed && (
        <>
          <h3>{t('course:weighed.title', { day: formatDay(weighed.day, 'short') })}</h3>
          {weighedText(weighed.result).map((line) => (
            <p key={line}>{line}</p>
          ))}
        </>
      )}
      {/* On a wound that must stay dry there is nothing to weigh: any fluid is a call. */}
      {!wound.keepDry && !when.isOver && (
        <div class="contents">
          <a href={`#/weigh/${encodeURIComponent(wound.id)}`}>{t('course:drainage.weigh')}</a>
        </div>
      )}
    </Part>
  );
}

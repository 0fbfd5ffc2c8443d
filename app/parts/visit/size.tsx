import type { MilestoneStanding } from '../../care/healing/milestones.ts';
import type { WoundSize } from '../../care/healing/sizes.ts';
import type { Period } from '../../care/visit/period.ts';
import type { SizePart } from '../../care/visit/size-part.ts';
import { formatShare, formatShortDay, formatSpan } from '../../words/figures.ts';
import { formatDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { Chart } from '../chart/chart.tsx';
import { sizeChart } from '../chart/wound-charts.ts';
import { type FactRow, Facts, useSay } from './speak.tsx';
import { courseText, missing, sizeText, type VisitUnits } from './visit-words.ts';

/** So many sizes between the first and the last are named, the newest. */
const BETWEEN_MOST = 8;

/** Size of a wound: first and last, the share that is gone, the milestones, the sizes of the period, and the picture since the first. */
export function Size({ size, units, period }: { size: SizePart; units: VisitUnits; period: Period }) {
  return useSay()(() => {
    const { first, last, inPeriod, sinceFirst, milestones } = size;
    const line = (s: WoundSize): string =>
      t('visit:size.line', { size: sizeText(s, units.length), day: formatDay(s.day, 'short'), how: t(`visit:size.method.${s.method}`) });
    const between = inPeriod.filter((s) => s !== first && s !== last).slice(-BETWEEN_MOST);
    const dated = (s: WoundSize): string => t('visit:dayWhat', { day: formatShortDay(s.day), what: sizeText(s, units.length) });
    return (
      <>
        <Facts
          rows={[
            { label: t('visit:size.first'), value: first ? line(first) : missing() },
            { label: t('visit:size.last'), value: last && last !== first ? line(last) : t('visit:size.noneSince') },
            { label: t('visit:size.course'), value: courseText(sinceFirst?.reductionPct) },
            ...milestones.map(milestoneRow),
            between.length > 0 ? { label: t('visit:size.between'), value: between.map(dated) } : undefined,
          ]}
        />
        {sinceFirst?.mixed && <p class="visit-gap">{t('visit:size.mixed')}</p>}
        {size.points.length > 1 && <SizeChart size={size} units={units} period={period} />}
      </>
    );
  });
}

/** The picture, in the language of its place. */
function SizeChart({ size: { points }, units, period }: { size: SizePart; units: VisitUnits; period: Period }) {
  const from = [period.from, ...points.map((p) => p.day)].sort()[0] ?? period.from;
  // Called, not placed: what a chart says of itself must be said within the language too.
  return useSay()(() => Chart(sizeChart(points, { from, to: period.to }, units.length)));
}

/** Without a first size there are no days to hold a milestone against. */
function milestoneRow({ weeks, share, state, dueBetween, late }: MilestoneStanding): FactRow | undefined {
  if (!dueBetween) return undefined;
  const days = formatSpan(dueBetween.from, dueBetween.to);
  const value = t(state === 'met' && late ? 'visit:size.metLate' : `visit:size.state.${state}`, { days });
  return { label: t('visit:size.milestone', { weeks, share: formatShare(share) }), value };
}

import type { Milestone, Size, SizePart } from '../../care/visit/size-part.ts';
import { formatShare, formatShortDay, formatSpan } from '../../words/figures.ts';
import { formatDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { type FactRow, Facts, useSay } from './speak.tsx';
import { missing, sizeText, type VisitUnits } from './visit-words.ts';

/** Sizes of the period that have a line of their own; of more only the newest. */
const LINES_MOST = 8;

/** Size of a wound: first and last, the share that is gone, the milestones, and the sizes of the period. */
export function SizeTable({ size, units }: { size: SizePart; units: VisitUnits }) {
  return useSay()(() => {
    const { first, last, inPeriod, reduction, mixedMethods, milestones } = size;
    const line = (s: Size): string =>
      t('visit:size.line', { size: sizeText(s, units.length), day: formatDay(s.day, 'short'), how: t(`visit:size.method.${s.method}`) });
    const between = inPeriod.filter((s) => s !== first && s !== last).slice(-LINES_MOST);
    return (
      <>
        <Facts
          rows={[
            { label: t('visit:size.first'), value: first ? line(first) : missing() },
            { label: t('visit:size.last'), value: last && last !== first ? line(last) : t('visit:size.noneSince') },
            { label: t('visit:size.course'), value: courseText(reduction) },
            ...milestones.map((m): FactRow => ({ label: milestoneLabel(m), value: milestoneText(m) })),
            between.length > 0
              ? {
                  label: t('visit:size.between'),
                  value: between.map((s) => t('visit:dayWhat', { day: formatShortDay(s.day), what: sizeText(s, units.length) })).join('; '),
                }
              : undefined,
          ]}
        />
        {inPeriod.length === 0 && <p class="visit-gap">{t('visit:size.noneInPeriod')}</p>}
        {mixedMethods && <p class="visit-gap">{t('visit:size.mixed')}</p>}
      </>
    );
  });
}

function courseText(reduction: number | undefined): string {
  if (reduction === undefined) return missing();
  const share = formatShare(Math.abs(reduction));
  if (Math.round(reduction * 100) === 0) return t('visit:size.same');
  return t(reduction > 0 ? 'visit:size.smaller' : 'visit:size.larger', { share });
}

const milestoneLabel = ({ weeks, share }: Milestone): string => t('visit:size.milestone', { weeks, share: formatShare(share) });

function milestoneText({ state, from, to }: Milestone): string {
  return t(`visit:size.state.${state}`, { span: formatSpan(from, to) });
}

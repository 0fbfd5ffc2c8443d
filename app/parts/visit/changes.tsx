import type { ChangesPart } from '../../care/visit/changes-part.ts';
import { formatShortDay } from '../../words/figures.ts';
import { formatNumber, inARow } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { Facts, useSay } from './speak.tsx';
import { countedDays } from './visit-words.ts';

/** So many early and late changes are named; the rest is counted. */
const NAMED_MOST = 8;

/** How the changes of a wound stood to the plan. */
export function Changes({ changes }: { changes: ChangesPart }) {
  return useSay()(() => {
    const { done, coveredOnly, onTime, early, late, missed, stopped, first, unscheduled, overdueSince } = changes;
    const earlyOnes = early.map((c) => ({
      day: c.day,
      what: c.why === 'other' ? t('visit:changes.noReason') : t(`check:dressing.said.${c.why}`),
    }));
    const lateOnes = late.map((c) => ({
      day: c.day,
      what: c.daysLate === 0 ? t('visit:changes.hoursLate') : t('visit:changes.daysLate', { count: c.daysLate }),
    }));
    return (
      <Facts
        rows={[
          { label: t('visit:changes.done'), value: formatNumber(done) },
          coveredOnly.length > 0 ? { label: t('visit:changes.coveredOnly'), value: countedDays(coveredOnly) } : undefined,
          { label: t('visit:changes.onTime'), value: formatNumber(onTime) },
          { label: t('visit:changes.early'), value: counted(earlyOnes) },
          { label: t('visit:changes.late'), value: counted(lateOnes) },
          { label: t('visit:changes.missed'), value: countedDays(missed) },
          overdueSince ? { label: t('visit:changes.overdue'), value: formatShortDay(overdueSince), strong: true } : undefined,
          stopped.length > 0 ? { label: t('visit:changes.stopped'), value: countedDays(stopped) } : undefined,
          first > 0 ? { label: t('visit:changes.first'), value: formatNumber(first) } : undefined,
          unscheduled > 0 ? { label: t('visit:changes.unscheduled'), value: formatNumber(unscheduled) } : undefined,
        ]}
      />
    );
  });
}

function counted(list: readonly { day: ChangesPart['missed'][number]; what: string }[]): string {
  if (list.length === 0) return formatNumber(0);
  const named = list.slice(0, NAMED_MOST).map(({ day, what }) => t('visit:dayWhat', { day: formatShortDay(day), what }));
  const more = list.length > NAMED_MOST ? [t('visit:andMore', { count: list.length - NAMED_MOST })] : [];
  return t('visit:countOf', { count: list.length, what: inARow([...named, ...more]) });
}

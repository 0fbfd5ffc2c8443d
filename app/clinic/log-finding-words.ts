import type { ReviewReason } from '../care/healing/review.ts';
import type { LogFinding } from '../care/visit/log-findings.ts';
import { courseText } from '../parts/visit/visit-words.ts';
import { formatShare, formatShortDay } from '../words/figures.ts';
import { formatList, formatNumber, formatReading } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { isOneOf, reasonText } from '../words/reasons.ts';

/** What a finding of a log says, in the clinician's words. */
export function logFindingText(finding: LogFinding): string {
  switch (finding.id) {
    case 'alertOpen': {
      const { told, fired } = finding.alert;
      const why = fired.filter((rule, i) => fired.findIndex((other) => isOneOf(other, rule)) === i).map(reasonText);
      return t('clinic:found.alertOpen', { level: t(`alert:short.${told}`), why: why.join(' ') });
    }
    case 'fever':
      return finding.highest
        ? t('clinic:found.fever', {
            reading: formatReading(finding.highest.value, finding.highest.unit),
            where: t(`check:temperature.site.${finding.highest.site}`),
          })
        : t('clinic:found.feltFever');
    case 'raised':
    case 'feltFever':
      return t(`clinic:found.${finding.id}`);
    case 'tooWet':
    case 'tooDry':
      return t(`clinic:found.${finding.id}`, { why: formatList(finding.reasons.map((r) => t(`course:fit.why.${r}`))) });
    case 'above':
    case 'below':
      return t(`clinic:found.${finding.id}`, { times: formatNumber(finding.times), count: finding.looks });
    case 'late':
      return lateText(finding);
    case 'early':
      return t('clinic:found.early', {
        why: formatList(
          finding.reasons.map(({ why, times }) =>
            t('clinic:found.times', {
              what: why === 'other' ? t('visit:changes.noReason') : t(`check:dressing.said.${why}`),
              count: times,
            }),
          ),
        ),
      });
    case 'size':
      return sizeText(finding.review);
    case 'supply':
      return supplyText(finding);
    case 'question':
      return finding.text;
    case 'mention':
      return reasonText(finding.rule);
  }
}

function lateText({ late, missed, overdueSince }: LogFinding<'late'>): string {
  return [
    late > 0 && t('clinic:found.late', { count: late }),
    missed > 0 && t('clinic:found.missed', { count: missed }),
    overdueSince !== undefined && t('clinic:found.overdue', { day: formatShortDay(overdueSince) }),
  ]
    .filter(Boolean)
    .join(' ');
}

function sizeText(review: ReviewReason): string {
  const said =
    review.why === 'milestone'
      ? t('clinic:found.milestone', {
          share: formatShare(review.milestone.share),
          weeks: formatNumber(review.milestone.weeks),
          course: courseText(review.on.reductionPct),
        })
      : t(`clinic:found.${review.why}`);
  return review.mixed ? `${said} ${t('clinic:found.mixed')}` : said;
}

function supplyText({ line, until }: LogFinding<'supply'>): string {
  const name = line.name ?? t('visit:supplies.noName');
  const left = formatNumber(line.left ?? 0, 2);
  const ends = line.earliest ?? line.runsOut;
  if (line.lackingNext || ends === undefined) return t('clinic:found.lacking', { name, left });
  return t('clinic:found.runsOut', { name, left, day: formatShortDay(ends), until: formatShortDay(until) });
}

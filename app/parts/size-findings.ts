import type { Comparison } from '../care/healing/compare.ts';
import type { Healing } from '../care/healing/healing.ts';
import type { MilestoneStanding } from '../care/healing/milestones.ts';
import type { ReviewReason } from '../care/healing/review.ts';
import { formatDay, formatNumber } from '../words/format.ts';
import { t } from '../words/i18n.ts';

/** A change smaller than this, in whole per cent, is told as none: no ruler shows it. */
const LEAST_PCT = 1;

/** What the sizes of a wound say, in sentences, facts first; no verdict and no odds. Words of the area `course`. */
export function sizeFindings(healing: Healing): string[] {
  const { sinceFirst, course } = healing;
  if (!sinceFirst) return [];
  return [
    ...comparisonText(sinceFirst),
    ...healing.milestones.map(milestoneText),
    ...(course.kind === 'tooFew' && course.weeks > 1
      ? [t('course:find.tooFew', { count: course.weeks, needed: formatNumber(course.needed, 0) })]
      : []),
    ...healing.review.filter((r) => r.why !== 'milestone').map(reviewText),
    ...(healing.review.length > 0 ? [t('course:find.ask')] : []),
  ];
}

/** Between two ways of measuring there is no figure: it could be the measuring, and is easily taken for the wound. */
function comparisonText({ from, reductionPct, advanceMmPerWeek, mixed }: Comparison): string[] {
  if (mixed) return [t('course:find.mixed')];
  if (reductionPct === undefined) return [];
  const percent = formatNumber(Math.abs(reductionPct), 0);
  const day = formatDay(from.day, 'short');
  const how = Math.abs(reductionPct) < LEAST_PCT ? 'same' : reductionPct > 0 ? 'smaller' : 'larger';
  return [
    t(`course:find.${how}`, { percent, day }),
    ...(advanceMmPerWeek !== undefined
      ? [t(advanceMmPerWeek >= 0 ? 'course:find.edgeIn' : 'course:find.edgeOut', { mm: formatNumber(Math.abs(advanceMmPerWeek), 1) })]
      : []),
  ];
}

function milestoneText({ weeks, share, state, dueBetween, on }: MilestoneStanding): string {
  const days = { from: dueBetween ? formatDay(dueBetween.from, 'short') : '', to: dueBetween ? formatDay(dueBetween.to, 'short') : '' };
  const day = on ? formatDay(on.to.day, 'short') : '';
  const said = t(`course:find.milestone.${state}`, { weeks: formatNumber(weeks, 0), percent: formatNumber(share * 100, 0), day, ...days });
  return on?.mixed ? `${said} ${t('course:find.mixedPart')}` : said;
}

function reviewText(reason: Exclude<ReviewReason, { why: 'milestone' }>): string {
  const said = t(`course:find.review.${reason.why}`);
  return reason.mixed ? `${said} ${t('course:find.mixedPart')}` : said;
}

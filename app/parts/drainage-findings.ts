import type { FitFinding } from '../care/drainage/fit.ts';
import type { WearEstimate } from '../care/drainage/wear.ts';
import type { WeighedResult } from '../care/drainage/weighing.ts';
import type { Spread } from '../care/healing/spread.ts';
import { formatDay, formatList, formatNumber } from '../words/format.ts';
import { t } from '../words/i18n.ts';

/** One sentence for the clinic's list: the dressing did not fit so many times in a row, and by what. Words of the area `course`. */
export function fitText({ says, changes, reasons }: FitFinding): string {
  const why = formatList(reasons.map((reason) => t(`course:fit.why.${reason}`)));
  const since = changes[0] ? formatDay(changes[0].found.day, 'short') : '';
  return t(`course:fit.${says}`, { count: changes.length, day: since, why });
}

const rangeOf = ({ low, high }: Spread, digits: number) => ({ low: formatNumber(low, digits), high: formatNumber(high, digits) });

/** What a weighed dressing says of a day's fluid, with how sure that is. */
export function weighedText(result: WeighedResult): string[] {
  if (result.kind === 'belowWhatTheScaleSees') return [t('course:weighed.below', { grams: formatNumber(result.lessThanGPerDay, 1) })];
  if (result.kind !== 'rate') return [t(`course:weighed.${result.kind}`)];
  const { gPerDay, gPerCm2Day } = result;
  return [
    t('course:weighed.rate', { grams: formatNumber(gPerDay.value, 1), ...rangeOf(gPerDay, 1) }),
    ...(gPerCm2Day ? [t('course:weighed.perArea', { ...rangeOf(gPerCm2Day, 2), day: formatDay(gPerCm2Day.size.day, 'short') })] : []),
    t('course:weighed.atLeast'),
  ];
}

/** How long a dressing may last, as a range and an estimate; nothing where there is no figure for it. */
export function wearText(estimate: WearEstimate): string | undefined {
  if (estimate.kind === 'none') return undefined;
  if (estimate.lasts === 'yes') return t('course:wear.yes', { hours: formatNumber(estimate.planHours, 0) });
  return t(`course:wear.${estimate.lasts}`, {
    low: formatNumber(estimate.low, 0),
    high: formatNumber(estimate.high, 0),
    hours: formatNumber(estimate.planHours, 0),
  });
}

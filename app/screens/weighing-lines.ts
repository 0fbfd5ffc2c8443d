import type { RecordOf } from '../care/log/records.ts';
import { formatNumber, formatWeight } from '../words/format.ts';
import { t } from '../words/i18n.ts';

/** A fact with its name. */
export interface Line {
  name: string;
  value: string;
}

export const hoursText = (hours: number): string => t('log:hours', { count: hours, hours: formatNumber(hours, 2) });

/** What was weighed, as plain facts. Nothing is worked out but the difference. Words of the area `log`. */
export function weighingLines({ dryG, usedG, hours, stepG }: RecordOf<'weighing'>): Line[] {
  // Rounded, or 19.3 − 12.1 would be 7.199999….
  const apart = Number(Math.abs(usedG - dryG).toFixed(2));
  return [
    { name: t('log:weighing.dry'), value: formatWeight(dryG) },
    { name: t('log:weighing.used'), value: formatWeight(usedG) },
    { name: t(usedG < dryG ? 'log:weighing.lighter' : 'log:weighing.heavier'), value: formatWeight(apart) },
    { name: t('log:weighing.hours'), value: hoursText(hours) },
    { name: t('log:weighing.step'), value: formatWeight(stepG) },
  ];
}

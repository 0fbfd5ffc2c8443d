import type { CheckItem } from '../care/check/items.ts';
import type { Dressing, Interval, Plan, Wound } from '../care/plan/plan.ts';
import { WEEKDAYS } from '../care/schedule/day.ts';
import { formatLength, formatList, formatNumber, formatWeekday, inARow } from './format.ts';
import { apart, t } from './i18n.ts';

/** What a wound is called: the person's own label, else place and foot. */
export function woundName(wound: Pick<Wound, 'label' | 'site' | 'side'>): string {
  const place = t(`common:wound.${wound.side}`, { site: t(`common:site.${wound.site}`) });
  return wound.label ? `${apart(wound.label)} (${place})` : place;
}

export const footName = (side: 'left' | 'right'): string => t(`common:foot.${side}`);

/** The size of a dressing in cm, as it stands on packets and in the clinic's plan, and in inches too where those are used. */
function dressingSize({ widthMm, heightMm }: Dressing, unit: 'cm' | 'in'): string[] {
  if (!widthMm || !heightMm) return [];
  const sizeIn = (each: 'cm' | 'in'): string =>
    t('common:size', { width: formatLength(widthMm, each), height: formatLength(heightMm, each) });
  return [unit === 'cm' ? sizeIn('cm') : t('common:sizeBoth', { size: sizeIn('cm'), other: sizeIn('in') })];
}

/** A dressing with its size: `Foam, 10 × 10 cm (name on the packet)`. */
export function dressingName(dressing: Dressing, unit: 'cm' | 'in'): string {
  const family = t(`common:family.${dressing.family}`);
  const parts = inARow([dressing.silver ? t('common:withSilver', { family }) : family, ...dressingSize(dressing, unit)]);
  return dressing.name ? t('common:onPacket', { dressing: parts, name: dressing.name }) : parts;
}

/** How often: `every day`, `every 2 days`, `twice a day`, `on Monday and Thursday`. */
export function intervalText(interval: Interval): string {
  if (interval.kind === 'timesADay') return t('common:every.times', { count: interval.times });
  if (interval.kind === 'weekdays') {
    const days = WEEKDAYS.filter((d) => interval.days.includes(d)).map((d) => formatWeekday(WEEKDAYS.indexOf(d)));
    return t('common:every.weekdays', { days: formatList(days) });
  }
  if (interval.hours % 24 === 0) return t('common:every.days', { count: interval.hours / 24 });
  return t('common:every.hours', { count: interval.hours });
}

/** An amount of an item: `2 × Foam pad`. */
export const amountText = (plan: Plan, use: { item: string; amount: number }): string =>
  t('common:amount', { amount: formatNumber(use.amount, 2), name: plan.supplies.find((s) => s.id === use.item)?.name ?? use.item });

/** What a question is about: one foot, one wound, or nothing that needs saying. */
export function aboutText(plan: Pick<Plan, 'wounds'>, item: CheckItem): string | undefined {
  if (item.wound !== undefined) {
    const wound = plan.wounds.find((w) => w.id === item.wound);
    return wound && woundName(wound);
  }
  return item.side && footName(item.side);
}

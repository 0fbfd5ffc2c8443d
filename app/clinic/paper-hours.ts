import type { Clinic } from '../care/plan/plan.ts';
import { WEEKDAYS } from '../care/schedule/day.ts';
import { formatClock, formatList, formatWeekday, inARow } from '../words/format.ts';
import { spoken, t } from '../words/i18n.ts';

const upperFirst = (text: string): string => text.slice(0, 1).toLocaleUpperCase(spoken()) + text.slice(1);

/** Runs of days that follow each other and are alike. */
function runsOf(days: readonly number[]): number[][] {
  const runs: number[][] = [];
  for (const day of days) {
    const last = runs.at(-1);
    if (last && last.at(-1) === day - 1) last.push(day);
    else runs.push([day]);
  }
  return runs;
}

/** Days of the week, those that follow each other as a span: `Monday to Friday`. */
function daysText(days: readonly number[]): string {
  const names = runsOf(days).flatMap((run) =>
    run.length > 2
      ? [t('paper:hours.range', { from: formatWeekday(run[0] as number), to: formatWeekday(run.at(-1) as number) })]
      : run.map(formatWeekday),
  );
  return formatList(names);
}

/** The opening hours as sentences, days of the same hours together, days closed last. None where the plan has no hours. */
export function hoursLines({ hours }: Pick<Clinic, 'hours'>): string[] {
  if (hours.length === 0) return [];
  const byHours = new Map<string, number[]>();
  WEEKDAYS.forEach((day, i) => {
    const spans = hours.filter((h) => h.day === day).map((h) => `${formatClock(h.opens)} – ${formatClock(h.closes)}`);
    const text = inARow(spans);
    byHours.set(text, [...(byHours.get(text) ?? []), i]);
  });
  const closed = byHours.get('');
  byHours.delete('');
  const open = [...byHours].map(([text, days]) => upperFirst(t('paper:hours.open', { days: daysText(days), hours: text })));
  return closed ? [...open, t('paper:hours.closed', { days: daysText(closed) })] : open;
}

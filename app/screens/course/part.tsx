import type { ComponentChildren } from 'preact';
import type { SeriesPoint } from '../../care/log/series.ts';
import type { Span } from '../../parts/chart/wound-charts.ts';
import { formatDay, formatList } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { lastBefore, type Period } from './period.ts';

/** What every part of the page is told. */
export interface PartProps {
  period: Period;
  span: Span;
  /** The wound is no longer in the plan. */
  isOver: boolean;
}

/** One thing that is followed: what it is, what is known in sentences, then the picture. */
export function Part({ title, said, children }: { title: string; said: readonly string[]; children?: ComponentChildren }) {
  return (
    <section class="course-part">
      <h2>{title}</h2>
      {said.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {children}
    </section>
  );
}

/** That nothing was entered in this time, and when the last time was. */
export function nothingIn(points: readonly SeriesPoint[], { period, span }: PartProps): string[] {
  const before = lastBefore(points, span);
  return [t(`course:none.${period}`), ...(before ? [t('course:before', { day: formatDay(before, 'short') })] : [])];
}

/** How often each answer was given, the mildest first: `none once, a little 5 times`. */
export function countsText(codes: readonly string[], given: readonly (string | undefined)[], name: (code: string) => string): string {
  const counted = codes.map((code) => ({ code, count: given.filter((g) => g === code).length })).filter(({ count }) => count > 0);
  return formatList(counted.map(({ code, count }) => t('course:countOf', { count, what: name(code) })));
}

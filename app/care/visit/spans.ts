import { BANDS } from '../check/questions.ts';
import { addDays, daysBetween, type LocalDay } from '../schedule/day.ts';
import type { DrainageCounts, DrainageRow } from './changes-part.ts';

/** The looks of some weeks put together. */
export interface DrainageSpan {
  from: LocalDay;
  to: LocalDay;
  counts: DrainageCounts;
  above: number;
  below: number;
}

/** Weeks put together in one span, shortest first. */
const WEEKS = [1, 2, 4, 8, 13, 26, 52];

/**
 * Looks put together by weeks, from the first look on, in the shortest spans
 * that make no more than `most` rows. Spans without a look are left out.
 */
export function spansOf(rows: readonly DrainageRow[], most: number): DrainageSpan[] {
  const first = rows[0]?.day;
  const last = rows.at(-1)?.day;
  if (first === undefined || last === undefined) return [];
  const days = daysBetween(first, last) + 1;
  const length = 7 * (WEEKS.find((w) => days / (7 * w) <= most) ?? Math.ceil(days / (7 * most)));
  return Array.from({ length: Math.ceil(days / length) }, (_, i): DrainageSpan => {
    const from = addDays(first, i * length);
    const to = addDays(from, length - 1);
    const own = rows.filter((r) => r.day >= from && r.day <= to);
    const counts = Object.fromEntries([...BANDS, 'unsure', 'notSeen'].map((key) => [key, 0])) as DrainageCounts;
    for (const row of own) counts[row.amount ?? 'notSeen'] += 1;
    return { from, to, counts, above: own.filter((r) => r.place === 'above').length, below: own.filter((r) => r.place === 'below').length };
  }).filter((span) => Object.values(span.counts).some((n) => n > 0));
}

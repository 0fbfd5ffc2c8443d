import { useState } from 'preact/hooks';
import { addDays, type LocalDay } from '../../care/schedule/day.ts';

/** Which days the page speaks of. */
export const SPANS = ['visit', 'twoWeeks', 'threeMonths', 'days'] as const;
export type Span = (typeof SPANS)[number];

/** What the person chose to show. */
export interface Choice {
  span: Span;
  /** Only with `days`. */
  from?: LocalDay;
  to?: LocalDay;
  second?: string;
  printPhotos: boolean;
}

/** The days of a choice; both undefined mean since the last visit. */
export function daysOfChoice({ span, from, to }: Choice, today: LocalDay): { from?: LocalDay; to?: LocalDay } {
  if (span === 'twoWeeks') return { from: addDays(today, -13) };
  if (span === 'threeMonths') return { from: addDays(today, -90) };
  return span === 'days' && from !== undefined && to !== undefined ? { from, to } : {};
}

/** Per book, for as long as the app is open: going off to write a question must not undo it. */
const kept = new Map<string, Choice>();

/** The choice for a book, and a way to make another. */
export function useChoice(book: string): [Choice, (next: Choice) => void] {
  const [choice, setChoice] = useState<Choice>(kept.get(book) ?? { span: 'visit', printPhotos: false });
  const choose = (next: Choice) => {
    kept.set(book, next);
    setChoice(next);
  };
  return [choice, choose];
}

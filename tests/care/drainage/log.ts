import type { Answers } from '../../../app/care/check/answers.ts';
import { type ChangeFit, fitOf } from '../../../app/care/drainage/fit.ts';
import { type Found, foundAtChanges } from '../../../app/care/drainage/series.ts';
import type { ChangeRecord, LogRecord } from '../../../app/care/log/records.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import type { Plan, Wound } from '../../../app/care/plan/plan.ts';
import { change, mustBeRecords } from '../log/make.ts';
import { demoPlan, mustRead } from '../plan/plans.ts';

/**
 * Invented logs of wound w1 under the demo plan: hydrogel under foam for no
 * drainage, collagen under foam for light (both every 48 hours), alginate under
 * foam for moderate (every 24), a call for heavy; light to moderate expected.
 */

export const PLAN = demoPlan();
export const LATER = Date.parse('2031-06-01T00:00:00Z');

/** A change at 09:00 UTC of a day of March 2031: what was found, and by which recipe it was dressed. */
export function changed(day: number, answers: Answers, more: Partial<ChangeRecord> = {}): ChangeRecord {
  const amount = answers.drainageAmount;
  const { band: _, ...plain } = change(`c${day}`, `2031-03-${String(day).padStart(2, '0')}T09:00`);
  const isCall = amount === undefined || amount === 'unsure' || amount === 'heavy';
  return {
    ...plain,
    answers: { edge: 'usual', dressing: 'dryInPlace', ...answers },
    ...(isCall ? { path: 'coverAndCall' as const } : { band: amount }),
    ...more,
  };
}

export const foundIn = (records: readonly LogRecord[], plan: Plan = PLAN, older: readonly Plan[] = []): Found[] =>
  foundAtChanges(plan, timeline(mustBeRecords(records)), 'w1', LATER, 'UTC', { older });

export const fitsIn = (records: readonly LogRecord[], plan?: Plan): ChangeFit[] => foundIn(records, plan).map(fitOf);

/** The demo plan with another first wound. */
export const planWithWound = (edit: (wound: Wound) => Wound): Plan =>
  mustRead({ ...PLAN, wounds: PLAN.wounds.map((w, i) => (i === 0 ? edit(w) : w)) });

import type { Answers } from '../check/answers.ts';
import type { History, Moment } from '../escalation/facts.ts';
import type { Wound } from '../plan/plan.ts';
import { AHEAD_MS, instantOf } from '../schedule/day.ts';
import type { CheckRecord, LogRecord } from './records.ts';
import { alertStates, type Entry, standing } from './timeline.ts';

const momentOf = (r: LogRecord): Moment => ({ at: Date.parse(r.at), day: r.day });

/** The answers of a check as they concern one wound. */
export function answersForWound(check: CheckRecord, wound: Pick<Wound, 'id' | 'side'>): Answers {
  return { ...check.person, ...check.feet[wound.side], ...(Object.hasOwn(check.wounds, wound.id) ? check.wounds[wound.id] : {}) };
}

/**
 * One wound's past, as the escalation rules read it.
 *
 * A change and the check of the same sitting become one: otherwise a marked
 * dressing seen once would count as seen twice.
 * @param without ids of records to leave out, such as the check now being judged.
 */
export function historyOf(entries: readonly Entry[], wound: Wound, without: readonly string[] = []): History {
  const checks = standing(entries, 'check').filter((e) => !without.includes(e.first.id));
  const changes = standing(entries, 'change').filter((e) => e.now.wound === wound.id && !without.includes(e.first.id));
  const checkById = new Map(checks.map((e) => [e.first.id, e.now]));
  const joined = new Set(changes.map((e) => e.now.check).filter((id) => id !== undefined));
  const past = [
    ...checks.filter((e) => !joined.has(e.first.id)).map((e) => ({ ...momentOf(e.first), answers: answersForWound(e.now, wound) })),
    ...changes.map((e) => {
      const check = e.now.check === undefined ? undefined : checkById.get(e.now.check);
      return { ...momentOf(e.first), answers: { ...(check ? answersForWound(check, wound) : {}), ...e.now.answers } };
    }),
  ];
  const measured = standing(entries, 'measurement')
    .filter((e) => e.now.wound === wound.id)
    .map((e) => ({ ...momentOf(e.first), lengthMm: e.now.lengthMm, widthMm: e.now.widthMm, areaMm2: e.now.areaMm2 }));
  const { baseline } = wound;
  const first = baseline
    ? [{ at: instantOf(baseline.day, 0, 'UTC'), day: baseline.day, lengthMm: baseline.lengthMm, widthMm: baseline.widthMm }]
    : [];
  return {
    checks: past,
    changes: changes.filter((e) => !e.now.stopped).map((e) => momentOf(e.first)),
    measurements: [...first, ...measured],
    alerts: alertStates(entries).map((s) => ({
      ...momentOf(s.alert),
      level: s.alert.told,
      // The outcome that closed it, whatever was written down after that.
      outcome: (s.outcomes.findLast((o) => o.what !== 'couldNotReach') ?? s.outcomes.at(-1))?.what ?? null,
    })),
  };
}

/**
 * The amount found at the latest change of a wound, if any. One dated ahead of
 * `now` by a wrong clock counts only where there is no other.
 */
export function lastFound(
  entries: readonly Entry[],
  woundId: string,
  now: number = Number.POSITIVE_INFINITY,
): 'none' | 'light' | 'moderate' | 'heavy' | undefined {
  const found = standing(entries, 'change').filter(
    ({ now: { wound, answers } }) => wound === woundId && answers?.drainageAmount !== undefined && answers.drainageAmount !== 'unsure',
  );
  const last = found.findLast((e) => Date.parse(e.first.at) <= now + AHEAD_MS) ?? found.at(-1);
  return last?.now.answers?.drainageAmount as 'none' | 'light' | 'moderate' | 'heavy' | undefined;
}

/**
 * The latest change of a wound that was not broken off. A change dated ahead of
 * `now` by a clock that was wrong does not count, or it would hide that the next
 * one is due. Entries stand in time order.
 */
export const lastDone = (entries: readonly Entry[], woundId: string, now: number = Number.POSITIVE_INFINITY) =>
  standing(entries, 'change').findLast((e) => e.now.wound === woundId && !e.now.stopped && Date.parse(e.first.at) <= now + AHEAD_MS);

/** The instant (ms) of the latest change of a wound, if any, as `lastDone` finds it. */
export function lastChange(entries: readonly Entry[], woundId: string, now?: number): number | undefined {
  const last = lastDone(entries, woundId, now);
  return last && Date.parse(last.first.at);
}

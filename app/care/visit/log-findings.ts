import type { FitReason } from '../drainage/fit.ts';
import { healingOf } from '../healing/healing.ts';
import type { ReviewReason } from '../healing/review.ts';
import type { LoggedRule } from '../log/records.ts';
import { limitsOf } from '../plan/limits-of.ts';
import { visitOf } from '../schedule/coming-changes.ts';
import { addDays, type LocalDay } from '../schedule/day.ts';
import type { EarlyReason } from '../schedule/past-changes.ts';
import { LEAD_DAYS } from '../supplies/forecast.ts';
import type { AlertLine } from './alerts-part.ts';
import type { TemperaturePart } from './answers-part.ts';
import { daysOnce, type Scope } from './scope.ts';
import { scopeOf, type VisitInput, type VisitSummary, type WoundPart } from './summary.ts';
import type { SupplyLine } from './supplies-part.ts';

/** What each finding says besides its days. */
interface Says {
  /** Nobody was reached about an alert, as far as the log says. */
  alertOpen: { alert: AlertLine };
  /** A reading that counts as fever under the plan of that day. */
  fever: { highest: TemperaturePart['highest'] };
  /** Readings that are raised and no more. */
  raised: object;
  /** No thermometer, but felt feverish. */
  feltFever: object;
  /** The newest changes say twice in a row that the dressing does not fit; see care/drainage. */
  tooWet: { wound: string; reasons: readonly FitReason[] };
  tooDry: { wound: string; reasons: readonly FitReason[] };
  /** More or less than the plan of that day expects, at so many of the looks whose amount and range are known. */
  above: { wound: string; times: number; looks: number };
  below: { wound: string; times: number; looks: number };
  /** The days of late and of missed changes, and since when one is overdue. */
  late: { wound: string; late: number; missed: number; overdueSince: LocalDay | undefined };
  /** Changed before it was due, with how often each reason was given. */
  early: { wound: string; reasons: readonly { why: EarlyReason; times: number }[] };
  /** A reason to look at the size again; see care/healing. The days are those of the sizes. */
  size: { wound: string; review: ReviewReason };
  /** Less than the coming time needs. `until`: the day it ought to last to. */
  supply: { line: SupplyLine; until: LocalDay };
  /** The person's own question. */
  question: { text: string };
  /** A rule that asked for a word at the visit. */
  mention: { rule: LoggedRule };
}
export type LogFindingId = keyof Says;
/** One thing in a log that the next plan should answer, with the days it rests on, of which there is at least one. */
export type LogFinding<Id extends LogFindingId = LogFindingId> = { [K in Id]: { id: K; days: LocalDay[] } & Says[K] }[Id];

/**
 * What a log says against the plan in force, gravest first, for whoever writes
 * the next one. Facts with their days; none says what to do about them.
 * @param input as the summary was made from.
 */
export function logFindings(input: VisitInput, summary: VisitSummary): LogFinding[] {
  const scope = scopeOf(input);
  const { alerts, questions, mention } = summary;
  const wounds = summary.wounds.filter((w) => input.plan.wounds.some((own) => own.id === w.id));
  return [
    ...alerts.filter((a) => a.open).map((alert): LogFinding => ({ id: 'alertOpen', days: [alert.day], alert })),
    ...temperatureFindings(summary.temperature),
    ...wounds.flatMap(drainageFindings),
    ...wounds.flatMap((w) => sizeFindings(scope, w)),
    ...wounds.flatMap(intervalFindings),
    ...supplyFindings(scope, summary.supplies),
    ...questions.map(({ day, text }): LogFinding => ({ id: 'question', days: [day], text })),
    ...mention.map(({ rule, days }): LogFinding => ({ id: 'mention', days, rule })),
  ];
}

function temperatureFindings({ feverDays, raisedDays, felt, highest }: TemperaturePart): LogFinding[] {
  const found: LogFinding[] = [
    { id: 'fever', days: feverDays, highest },
    { id: 'raised', days: raisedDays },
    { id: 'feltFever', days: felt },
  ];
  return found.filter((f) => f.days.length > 0);
}

function drainageFindings({ id: wound, drainage }: WoundPart): LogFinding[] {
  const { fit } = drainage;
  const known = drainage.rows.filter((r) => r.place !== 'unknown');
  const at = (place: 'above' | 'below') => {
    const rows = known.filter((r) => r.place === place);
    return { days: daysOnce(rows.map((r) => r.day)), wound, times: rows.length, looks: known.length };
  };
  const found: LogFinding[] = [
    ...(fit ? [{ id: fit.says, days: daysOnce(fit.changes.map((c) => c.found.day)), wound, reasons: fit.reasons }] : []),
    { id: 'above', ...at('above') },
    { id: 'below', ...at('below') },
  ];
  return found.filter((f) => f.days.length > 0);
}

function sizeFindings({ plan, entries, end, period }: Scope, { id }: WoundPart): LogFinding[] {
  const wound = plan.wounds.find((w) => w.id === id);
  if (!wound) return [];
  const { growthShare } = limitsOf(plan, wound, undefined).thresholds;
  const { review } = healingOf(entries, wound, { at: end, day: period.to }, growthShare);
  return review.map((reason): LogFinding => {
    const sizes = 'course' in reason ? reason.course.values : [reason.on.from, reason.on.to];
    return { id: 'size', days: daysOnce(sizes.map((s) => s.day)), wound: id, review: reason };
  });
}

function intervalFindings({ id: wound, changes }: WoundPart): LogFinding[] {
  const { late, missed, early, overdueSince } = changes;
  const lateDays = daysOnce([...late.map((c) => c.day), ...missed, ...(overdueSince === undefined ? [] : [overdueSince])]);
  const whys = [...new Set(early.map((c) => c.why))];
  const reasons = whys.map((why) => ({ why, times: early.filter((c) => c.why === why).length })).sort((a, b) => b.times - a.times);
  const found: LogFinding[] = [
    { id: 'late', days: lateDays, wound, late: late.length, missed: missed.length, overdueSince },
    { id: 'early', days: daysOnce(early.map((c) => c.day)), wound, reasons },
  ];
  return found.filter((f) => f.days.length > 0);
}

/** Short is what does not surely last to the next visit; where none is to come, for the days that a delivery takes [EV-SUP-03]. */
function supplyFindings({ plan, zone, period }: Scope, supplies: readonly SupplyLine[]): LogFinding[] {
  const visit = visitOf(plan, zone)?.day;
  const until = visit !== undefined && visit > period.to ? visit : addDays(period.to, LEAD_DAYS);
  return supplies
    .filter(({ lackingNext, earliest, runsOut }) => {
      const ends = earliest ?? runsOut;
      return lackingNext || (ends !== undefined && ends <= until);
    })
    .map((line): LogFinding => ({ id: 'supply', days: [period.to], line, until }));
}

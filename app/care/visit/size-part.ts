import { areaOf } from '../escalation/size.ts';
import type { MeasureMethod } from '../log/records.ts';
import { standing } from '../log/timeline.ts';
import { addDays, daysBetween, type LocalDay } from '../schedule/day.ts';
import type { Scope } from './scope.ts';

/** One size of a wound; what was not measured is left out. */
export interface Size {
  day: LocalDay;
  method: MeasureMethod;
  lengthMm?: number;
  widthMm?: number;
  depthMm?: number;
  areaMm2?: number;
}

export const MILESTONE_WEEKS = [4, 8] as const;

/**
 * What was hoped for by a number of weeks after the first size.
 *
 * `notYet`: its days have not come. `due`: they are here and no size was taken
 * in them yet. `notMeasured`: they are over, and none was.
 */
export interface Milestone {
  weeks: (typeof MILESTONE_WEEKS)[number];
  /** Wanted reduction as a share of the first area. */
  share: number;
  from: LocalDay;
  to: LocalDay;
  state: 'reached' | 'notReached' | 'notMeasured' | 'due' | 'notYet';
}

export interface SizePart {
  /** The first size there is, of whatever time, and the last one up to the end of the period. */
  first: Size | undefined;
  last: Size | undefined;
  /** Sizes taken in the period, in order. */
  inPeriod: Size[];
  /** Share of the first area that is gone by the last size; negative where the wound is larger. */
  reduction: number | undefined;
  /** First and last were not measured the same way. */
  mixedMethods: boolean;
  milestones: Milestone[];
}

/** Half gone at four weeks [EV-HEA-02, EV-HEA-03], nine tenths at eight [EV-HEA-04]; the days are those of the rule `size-stalled`. */
const MILESTONES = [
  { weeks: 4, share: 0.5, fromDay: 26, toDay: 35 },
  { weeks: 8, share: 0.9, fromDay: 54, toDay: 63 },
] as const;
/** Areas are quotients of measured lengths; a hair's breadth of rounding must not decide. */
const HAIR = 1e-9;

/** The sizes of a wound up to the end of the period, oldest first: those the clinic gave with its plans, and those of the log. */
function sizesOf(scope: Scope, wound: string): Size[] {
  const given = [...scope.earlierPlans, scope.plan].flatMap((p): Size[] => {
    const own = p.wounds.find((w) => w.id === wound)?.baseline;
    return own ? [sized({ ...own, method: 'clinic' })] : [];
  });
  const measured = standing(scope.entries, 'measurement')
    .filter((e) => e.now.wound === wound)
    .map((e) => sized({ ...e.now, day: e.first.day }));
  const all = [...given.filter((g, i) => g.day <= scope.period.to && given.findIndex((o) => isSame(o, g)) === i), ...measured];
  return all.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
}

const isSame = (a: Size, b: Size): boolean => a.day === b.day && a.lengthMm === b.lengthMm && a.widthMm === b.widthMm;

function sized(m: Pick<Size, 'day' | 'method'> & { [K in 'lengthMm' | 'widthMm' | 'depthMm' | 'areaMm2']?: number | undefined }): Size {
  const areaMm2 = areaOf({ at: 0, ...m });
  return {
    day: m.day,
    method: m.method,
    ...(m.lengthMm !== undefined && { lengthMm: m.lengthMm }),
    ...(m.widthMm !== undefined && { widthMm: m.widthMm }),
    ...(m.depthMm !== undefined && { depthMm: m.depthMm }),
    ...(areaMm2 !== undefined && { areaMm2 }),
  };
}

/** Size of one wound, first and last, with the share that is gone [EV-HEA-01] and the milestones. */
export function sizePart(scope: Scope, wound: string): SizePart {
  const sizes = sizesOf(scope, wound);
  const known = sizes.filter((s) => s.areaMm2 !== undefined && s.areaMm2 > 0);
  const first = known[0] ?? sizes[0];
  const withArea = sizes.filter((s) => s.areaMm2 !== undefined);
  const last = withArea.at(-1) ?? sizes.at(-1);
  const isOne = first === last;
  return {
    first,
    last,
    inPeriod: sizes.filter((s) => s.day >= scope.period.from),
    reduction: isOne ? undefined : shareGone(first, last),
    mixedMethods: !isOne && first !== undefined && last !== undefined && first.method !== last.method,
    milestones: first?.areaMm2 === undefined || first.areaMm2 <= 0 ? [] : milestonesOf(first, withArea, scope.period.to),
  };
}

function shareGone(first: Size | undefined, last: Size | undefined): number | undefined {
  if (!first?.areaMm2 || last?.areaMm2 === undefined) return undefined;
  return 1 - last.areaMm2 / first.areaMm2;
}

function milestonesOf(first: Size, sizes: readonly Size[], today: LocalDay): Milestone[] {
  return MILESTONES.map(({ weeks, share, fromDay, toDay }): Milestone => {
    const after = (s: { day: LocalDay }): number => daysBetween(first.day, s.day);
    const newest = sizes.filter((s) => after(s) >= fromDay && after(s) <= toDay).at(-1);
    const passed = daysBetween(first.day, today);
    const gone = shareGone(first, newest);
    const without = passed > toDay ? 'notMeasured' : passed >= fromDay ? 'due' : 'notYet';
    const state = gone === undefined ? without : gone >= share - HAIR ? 'reached' : 'notReached';
    return { weeks, share, from: addDays(first.day, fromDay), to: addDays(first.day, toDay), state };
  });
}

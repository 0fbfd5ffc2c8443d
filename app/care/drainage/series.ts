import { BANDS, type Band, bandRank, type Code } from '../check/questions.ts';
import type { ChangeRecord, CheckRecord } from '../log/records.ts';
import { type Entry, standing } from '../log/timeline.ts';
import type { Plan, Wound } from '../plan/plan.ts';
import { AHEAD_MS, HOUR_MS, type LocalDay } from '../schedule/day.ts';
import { isBeforeDue, type PastChange, type PastOptions, pastChanges } from '../schedule/past-changes.ts';
import { type Worn, wornFrom } from './worn.ts';

/** What was seen of a dressing from outside while it was on and when it came off. */
export interface SeenOutside {
  markedThrough: boolean;
  leaking: boolean;
  loose: boolean;
  wetFromOutside: boolean;
  /** Fluid came through or out before the change was due; undefined where it did and no due time is known. */
  gaveWayEarly: boolean | undefined;
}

/** One look at the open wound: what was found, what had been on it and for how long. */
export interface Found {
  /** The id by which other records know the change. */
  id: string;
  at: number;
  day: LocalDay;
  /** How the change stood to the schedule; undefined for one broken off before the wound was dressed again. */
  timing: PastChange | undefined;
  amount: Band | 'unsure' | undefined;
  /** The amounts that the plan of that day expects; undefined where that plan is not at hand. */
  expected: readonly [driest: Band, wettest: Band] | undefined;
  /** The amount against them. */
  standing: 'below' | 'within' | 'above' | undefined;
  /** The plan of that day wants this wound dry. */
  keepDry: boolean;
  /** The old dressing; undefined where nobody answered, or nobody was sure. */
  outside: SeenOutside | undefined;
  /** Skin at the edge white and soggy; undefined where not answered, or not sure. */
  soggyEdge: boolean | undefined;
  /** How long the old dressing was on, hours; undefined for the first. */
  wearHours: number | undefined;
  /** The old dressing itself; undefined where the log cannot say. */
  worn: Worn | undefined;
}

/**
 * What was found at each change of a wound, oldest first. Amounts stay the bands
 * they were given as; no grams or millilitres are made of them (the scales in
 * use mean different things by the same word).
 *
 * The time is that of the first version of a record, the answers those of the
 * last. A change dated after now by a wrong clock is left out; `pastChanges`
 * has it.
 * @param now ms. @param zone the person's IANA time zone now.
 * @param options `older`: plans in force before. `since` (ms): leave out what was before.
 */
export function foundAtChanges(
  plan: Plan,
  entries: readonly Entry[],
  woundId: string,
  now: number,
  zone: string,
  options: PastOptions = {},
): Found[] {
  const plans = [plan, ...(options.older ?? [])];
  const timings = new Map(pastChanges(plan, entries, now, zone, options).changes.map((c) => [c.id, c]));
  const looks = looksAtDressing(entries, woundId);
  const changes = standing(entries, 'change')
    .filter((e) => e.now.wound === woundId && Date.parse(e.first.at) <= now + AHEAD_MS && wasOpened(e.now))
    .sort((a, b) => Date.parse(a.first.at) - Date.parse(b.first.at));
  const found: Found[] = [];
  let before: Entry<ChangeRecord> | undefined;
  for (const entry of changes) {
    found.push(foundAt(entry, before, { plans, timings, looks }));
    before = entry;
  }
  const since = options.since ?? Number.NEGATIVE_INFINITY;
  return found.filter((f) => f.at >= since);
}

/** Whether the old dressing came off: one broken off before that says nothing and ends nothing. */
function wasOpened(change: ChangeRecord): boolean {
  if (!change.stopped) return true;
  return change.answers?.drainageAmount !== undefined || change.steps.some((s) => s.step === 'remove' && s.state !== 'skipped');
}

interface Seen {
  /** Ids by which a change may name the record it was seen in. */
  ids: readonly string[];
  at: number;
  day: LocalDay;
  code: Exclude<Code<'dressing'>, 'unsure'>;
}

/** Every sure answer on what the dressing of a wound looked like at a check. */
function looksAtDressing(entries: readonly Entry[], woundId: string): Seen[] {
  return standing(entries, 'check').flatMap((e): Seen[] => {
    const code = answerFor(e.now, woundId);
    return code === undefined || code === 'unsure'
      ? []
      : [{ ids: e.versions.map((v) => v.id), at: Date.parse(e.first.at), day: e.first.day, code }];
  });
}

const answerFor = (check: CheckRecord, woundId: string): Code<'dressing'> | undefined =>
  Object.hasOwn(check.wounds, woundId) ? check.wounds[woundId]?.dressing : undefined;

interface Around {
  plans: readonly Plan[];
  timings: ReadonlyMap<string, PastChange>;
  looks: readonly Seen[];
}

/** The wound in the plan that a change was made under, if that plan is at hand. */
function woundThen({ first, now }: Entry<ChangeRecord>, plans: readonly Plan[]): Wound | undefined {
  const then = plans.find((p) => p.id === first.plan?.id && p.revision === first.plan.revision);
  return then?.wounds.find((w) => w.id === now.wound);
}

function foundAt(entry: Entry<ChangeRecord>, before: Entry<ChangeRecord> | undefined, { plans, timings, looks }: Around): Found {
  const { first, now: change } = entry;
  const at = Date.parse(first.at);
  const wound = woundThen(entry, plans);
  const timing = timings.get(first.id);
  const amount = change.answers?.drainageAmount;
  const edge = change.answers?.edge;
  // After a change that was broken off nobody knows what lay on the wound.
  const laidBy = before && !before.now.stopped ? before : undefined;
  const laidOn = laidBy && Date.parse(laidBy.first.at);
  const woundBefore = laidBy && woundThen(laidBy, plans);
  const own = change.answers?.dressing;
  const seen = [
    ...looks.filter((s) => s.ids.includes(change.check ?? '') || (s.at > (laidOn ?? at) && s.at <= at)),
    ...(own === undefined || own === 'unsure' ? [] : [{ ids: [], at, day: first.day, code: own }]),
  ];
  return {
    id: first.id,
    at,
    day: first.day,
    timing,
    amount,
    expected: wound?.expectedDrainage,
    standing: wound && standingOf(amount, wound.expectedDrainage),
    keepDry: wound?.keepDry ?? false,
    outside: outsideFrom(seen, timing),
    soggyEdge: edge === undefined || edge === 'unsure' ? undefined : edge === 'whiteSoggy',
    wearHours: laidOn === undefined ? undefined : (at - laidOn) / HOUR_MS,
    worn: laidBy && woundBefore && wornFrom(laidBy.now, woundBefore),
  };
}

function standingOf(amount: Found['amount'], [driest, wettest]: readonly [Band, Band]): Found['standing'] {
  if (amount === undefined || !BANDS.includes(amount as Band)) return undefined;
  const rank = bandRank(amount as Band);
  if (rank < bandRank(driest)) return 'below';
  return rank > bandRank(wettest) ? 'above' : 'within';
}

function outsideFrom(seen: readonly Seen[], timing: PastChange | undefined): SeenOutside | undefined {
  if (seen.length === 0) return undefined;
  const has = (code: Seen['code']): boolean => seen.some((s) => s.code === code);
  const gaveWay = seen.filter((s) => s.code === 'markedThrough' || s.code === 'leaking');
  const { due, interval } = timing ?? {};
  return {
    markedThrough: has('markedThrough'),
    leaking: has('leaking'),
    loose: has('loose'),
    wetFromOutside: has('wetFromOutside'),
    gaveWayEarly: gaveWay.length === 0 ? false : due && interval && gaveWay.some((s) => isBeforeDue(s, due, interval)),
  };
}

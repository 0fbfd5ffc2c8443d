import { BANDS, type Band, bandRank } from '../check/questions.ts';
import { familyOf } from '../dressings/families.ts';
import type { Found } from './series.ts';
import type { Worn } from './worn.ts';

/**
 * What speaks against a dressing at one change.
 *
 * - `gaveWayEarly`: marked through or leaking before the change was due [EV-EXU-02, EV-EXU-05].
 * - `soggyEdge`: the skin at the edge is white and soggy [EV-PRA-03, EV-DRS-05].
 * - `moreThanRecipe`: more than the plan gives this recipe for.
 * - `moreThanFamily`: more than its family is meant for [EV-DRS-06, EV-PRA-02 to -05].
 * - `dryUnderAbsorbing`: no fluid at all under a dressing that takes up fluid,
 *   which may stick then [EV-EXU-02, EV-DRS-07].
 */
export type FitReason = 'gaveWayEarly' | 'soggyEdge' | 'moreThanRecipe' | 'moreThanFamily' | 'dryUnderAbsorbing';

/** `fits`: everything was looked at and nothing speaks against it. `unknown`: too little is known, or the signs contradict each other. */
export type FitVerdict = 'tooWet' | 'tooDry' | 'fits' | 'unknown';

/** How a dressing that came off had suited the wound. */
export interface ChangeFit {
  found: Found;
  verdict: FitVerdict;
  /** All that was seen, also where the verdict is `unknown`. */
  reasons: readonly FitReason[];
}

const isBand = (amount: Found['amount']): amount is Band => BANDS.includes(amount as Band);

/**
 * Holds what was found at one change against what the dressing's family is for
 * and what the plan expects.
 *
 * Where the amount says nothing about the dressing it is not held against it:
 * after water from outside, more than expected after a late change (fluid had
 * longer to gather), none after an early one (it had less time).
 */
export function fitOf(found: Found): ChangeFit {
  const { outside, soggyEdge, amount, worn, standing } = found;
  const fromOutside = outside?.wetFromOutside === true;
  const wet: FitReason[] = [
    ...(outside?.gaveWayEarly ? (['gaveWayEarly'] as const) : []),
    ...(soggyEdge && !fromOutside ? (['soggyEdge'] as const) : []),
  ];
  const byAmount = isBand(amount) && worn ? amountReasons(found, amount, worn) : [];
  const timing = found.timing?.timing;
  const counts = byAmount.filter((r) => !fromOutside && timing !== (r === 'dryUnderAbsorbing' ? 'early' : 'late'));
  const reasons = [...wet, ...counts];
  const isDry = reasons.includes('dryUnderAbsorbing');
  if (reasons.length > 0) {
    const isWet = reasons.some((r) => r !== 'dryUnderAbsorbing');
    return { found, verdict: isWet && isDry ? 'unknown' : isDry ? 'tooDry' : 'tooWet', reasons };
  }
  const allSeen = standing !== undefined && worn !== undefined && soggyEdge === false && outside?.gaveWayEarly === false && !fromOutside;
  return { found, verdict: allSeen && byAmount.length === 0 ? 'fits' : 'unknown', reasons };
}

/** What the amount says. The plan's own choice for an amount is never held against it, unless the plan does not expect that amount. */
function amountReasons({ standing, keepDry }: Found, amount: Band, worn: Worn): FitReason[] {
  if ((standing === 'within' || standing === undefined) && worn.bands.includes(amount)) return [];
  const above = (most: Band | undefined): boolean => most !== undefined && bandRank(amount) > bandRank(most);
  const absorbs = worn.works !== undefined && familyOf(worn.works).fluid === 'absorbs';
  return [
    ...(above(worn.bands.at(-1)) ? (['moreThanRecipe'] as const) : []),
    ...(above(worn.most) ? (['moreThanFamily'] as const) : []),
    // A wound that must stay dry is as it should be [EV-PRA-01].
    ...(amount === 'none' && absorbs && !keepDry ? (['dryUnderAbsorbing'] as const) : []),
  ];
}

/**
 * So many changes in a row must say the same, too wet as well as too dry (our
 * judgement). One may be chance: a shower, a short night. Two is the count that
 * the escalation rules take for a soggy edge, for a dressing that gave way and
 * for less drainage than expected, and a line on the clinic's list costs little.
 */
export const RUN = 2;
/** So many changes in a row that say nothing end a run: what lies further back is no longer "in a row". */
const SILENT_MOST = 1;

/** One line for the clinic's list. It says what was found and never which dressing to use instead. */
export interface FitFinding {
  says: 'tooWet' | 'tooDry';
  /** The changes it rests on, oldest first; among them none that says nothing. */
  changes: readonly ChangeFit[];
  /** What they gave as reasons, each once, the most frequent first. */
  reasons: readonly FitReason[];
}

/**
 * Whether the dressing still fits, by the newest changes; undefined where they
 * do not say twice in a row that it does not. What the plan marks as known is
 * counted too: the line is for the clinic, and known is not mended.
 * @param fits oldest first.
 */
export function fitFinding(fits: readonly ChangeFit[]): FitFinding | undefined {
  const run: ChangeFit[] = [];
  let silent = 0;
  for (const fit of [...fits].reverse()) {
    if (fit.verdict === 'unknown') {
      silent += 1;
      if (silent > SILENT_MOST) break;
      continue;
    }
    if (run[0] && run[0].verdict !== fit.verdict) break;
    run.push(fit);
    silent = 0;
  }
  const says = run[0]?.verdict;
  if (run.length < RUN || (says !== 'tooWet' && says !== 'tooDry')) return undefined;
  const times = new Map<FitReason, number>();
  for (const reason of run.flatMap((f) => f.reasons)) times.set(reason, (times.get(reason) ?? 0) + 1);
  const reasons = [...times].sort(([, a], [, b]) => b - a).map(([reason]) => reason);
  return { says, changes: run.reverse(), reasons };
}

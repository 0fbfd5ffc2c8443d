import type { Level } from './levels.ts';

/**
 * The ids of the rules in the order of the table, each with the mildest level it
 * can give. They stand apart from the conditions, because whatever reads a
 * record or a plan needs them and the first screen does not judge. The types of
 * the table (rules.ts) keep the two alike.
 */
export const RULE_LEVELS = {
  'sepsis-sign': 'emergency',
  'keeps-vomiting': 'callNow',
  fever: 'callNow',
  'fever-with-sign': 'emergency',
  'raised-temperature': 'callToday',
  'low-temperature': 'callNow',
  'very-low-temperature': 'emergency',
  'feverish-unsure': 'callToday',
  'foot-cold-pale': 'emergency',
  'foot-pale': 'callNow',
  'foot-pale-severe-pain': 'emergency',
  'foot-pale-with-sign': 'emergency',
  'new-black': 'callNow',
  'black-with-sign': 'emergency',
  'darker-patch': 'callToday',
  'redness-fast': 'emergency',
  'redness-streaks': 'callNow',
  'redness-spreading': 'callNow',
  deep: 'callNow',
  'two-signs': 'callNow',
  'one-sign': 'callToday',
  'odour-new': 'callToday',
  'pain-severe': 'callNow',
  'hot-swollen': 'callNow',
  'warm-two-days': 'callToday',
  'warm-once': 'mention',
  'bleeding-wont-stop': 'emergency',
  'bleeding-soaked': 'callToday',
  'drainage-above-plan': 'callToday',
  'plan-says-call': 'callToday',
  'drainage-rising': 'callToday',
  'drainage-below-plan': 'mention',
  overwhelmed: 'callToday',
  'soggy-edge': 'mention',
  'new-sore': 'callToday',
  'offloading-broken': 'callToday',
  'offloading-off': 'mention',
  'glucose-very-low': 'callNow',
  'glucose-low': 'mention',
  'glucose-high-ill': 'callNow',
  'glucose-high': 'callToday',
  'not-sure': 'callToday',
  'keep-dry-breached': 'callNow',
  'change-overdue': 'callToday',
  'size-stalled': 'mention',
  'size-growing': 'callToday',
  unresolved: 'callNow',
  'plan-out-of-date': 'mention',
} as const satisfies Record<string, Level>;

/**
 * Fires by itself, without a row in the table, when the plan raised a rule and
 * the person gave an answer graver than the one that rule watches: the graver
 * answer then counts at least as much (property 1, cautious).
 */
export const GRAVER_THAN_RAISED = 'graver-than-raised';

/** A rule with a row in the table. */
export type TableRuleId = keyof typeof RULE_LEVELS;
export type RuleId = TableRuleId | typeof GRAVER_THAN_RAISED;

/** Ids of the rules in table order. */
export const TABLE_RULE_IDS = Object.keys(RULE_LEVELS) as TableRuleId[];

/** Ids of all rules, in table order, `graver-than-raised` last. */
export const RULE_IDS: readonly RuleId[] = [...TABLE_RULE_IDS, GRAVER_THAN_RAISED];

/** Rules that rest on the clock, the plan or the past alone and so need no answers. */
export const STANDING_RULES: readonly RuleId[] = ['change-overdue', 'size-stalled', 'size-growing', 'unresolved', 'plan-out-of-date'];

import type { Band } from '../check/questions.ts';
import type { DraftPlan } from './draft.ts';
import type { FindingContext, RecipeFacts } from './finding-facts.ts';

/** How grave a finding is: it stops the hand-over, it warns, or it only tells. */
export const GRAVITIES = ['stops', 'warns', 'tells'] as const;
export type Gravity = (typeof GRAVITIES)[number];

export type Params = Readonly<Record<string, string | number>>;

/** Where and with what a rule fires. */
export interface Firing {
  wound?: string;
  band?: Band;
  /** Which wording fits, where a rule has more than one. */
  variant?: string;
  params?: Params;
}

export interface Desk {
  draft: DraftPlan;
  recipes: readonly RecipeFacts[];
  context: FindingContext;
}

export interface FindingRule {
  readonly id: string;
  readonly gravity: Gravity;
  /** Rows of the evidence table, `practice` (common practice of the trade) or `cautious` (no source; the careful choice). */
  readonly source: readonly string[];
  /** The wordings of a rule that has more than one. */
  readonly variants?: readonly string[];
  readonly when: (desk: Desk) => readonly Firing[];
}

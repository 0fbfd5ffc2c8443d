import type { Answers } from '../check/answers.ts';
import type { LocalDay } from '../schedule/day.ts';
import type { Level } from './levels.ts';

/** An instant with the calendar day the person was in. */
export interface Moment {
  /** ms since 1970, UTC. */
  at: number;
  day: LocalDay;
}

/** A finished check, seen from one wound. */
export interface PastCheck extends Moment {
  answers: Answers;
}

/** A wound's size: its two diameters, or an area that was traced. */
export interface PastMeasurement extends Moment {
  lengthMm?: number | undefined;
  widthMm?: number | undefined;
  areaMm2?: number | undefined;
}

/** An alert that was raised, and what came of it. */
export interface PastAlert extends Moment {
  level: Level;
  /** `null` or `couldNotReach`: nobody has answered yet. */
  outcome: string | null;
}

/** What happened before, for one wound, in any order. */
export interface History {
  checks: readonly PastCheck[];
  /** Dressing changes, with or without answers. */
  changes: readonly Moment[];
  measurements: readonly PastMeasurement[];
  alerts: readonly PastAlert[];
}

export const EMPTY_HISTORY: History = { checks: [], changes: [], measurements: [], alerts: [] };

/** Oldest first. */
export const byTime = (a: Moment, b: Moment): number => a.at - b.at;

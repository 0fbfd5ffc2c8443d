/** Levels of a check, mild to grave. */
export const LEVELS = ['carryOn', 'mention', 'callToday', 'callNow', 'emergency'] as const;
export type Level = (typeof LEVELS)[number];
/** What a check can come to: a level, or `unfinished` while a required answer is missing. */
export type Outcome = Level | 'unfinished';

/** 0 for `carryOn` to 4 for `emergency`. */
export const rankOf = (level: Level): number => LEVELS.indexOf(level);

/** The graver of two levels. */
export const graver = (a: Level, b: Level): Level => (rankOf(a) >= rankOf(b) ? a : b);

/** The gravest of many; `carryOn` for none. */
export const gravest = (levels: readonly Level[]): Level => levels.reduce(graver, 'carryOn');

export const isAtLeast = (level: Level, floor: Level): boolean => rankOf(level) >= rankOf(floor);

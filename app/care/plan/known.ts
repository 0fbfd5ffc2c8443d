import { mildestAnswers } from '../check/answers.ts';
import { assess } from '../escalation/assess.ts';
import { isAtLeast } from '../escalation/levels.ts';
import { DEFAULT_LIMITS } from '../escalation/limits.ts';
import { EMPTY_HISTORY, type Moment } from '../escalation/past.ts';
import type { LocalDay } from '../schedule/day.ts';

/** Any day: with nothing before it, the level of an answer does not hang on the clock. */
const ANY: Moment = { at: 0, day: '1970-01-01' as LocalDay };

/**
 * Whether marking a finding as known to the clinic could quieten it: known
 * findings quiet "mention" and "call today" only. Of amounts of drainage the
 * expected range tells, so they are no such findings here.
 * @param finding `question:code`.
 */
export function canGoQuiet(finding: string): boolean {
  const [id, code] = finding.split(':') as [string, string];
  if (id === 'drainageAmount') return false;
  const mildest = mildestAnswers();
  const answer = Array.isArray(mildest[id as keyof typeof mildest]) ? [code] : code;
  const { level } = assess(DEFAULT_LIMITS, EMPTY_HISTORY, { ...mildest, [id]: answer }, ANY);
  return level === 'unfinished' || !isAtLeast(level, 'callNow');
}

import type * as z from 'zod/mini';

/** One fault of a plan: where it is and what is wrong, both as keys for words. */
export interface PlanFault {
  path: readonly (string | number)[];
  /** One of the error codes below, `missing`, `unknownField`, `newerVersion` or `wrong`. */
  fault: string;
}

/** More faults than anybody would read; a hostile plan can have a hundred thousand. */
const FAULTS_MOST = 20;

/**
 * What a schema found wrong, as faults that name the field.
 * @param issues of a parse with `reportInput`, which tells a missing field from one of the wrong type.
 * @returns the first 20.
 */
export function faultsOf(issues: readonly z.core.$ZodIssue[]): PlanFault[] {
  const faults: PlanFault[] = [];
  for (const issue of issues) {
    if (faults.length >= FAULTS_MOST) break;
    faults.push(...faultsOfOne(issue, []).slice(0, FAULTS_MOST - faults.length));
  }
  return faults;
}

const OUR_FAULTS = new Set([
  'empty',
  'tooLong',
  'tooMany',
  'notAnId',
  'notADay',
  'notATime',
  'notAPhone',
  'notAZone',
  'notAFinding',
  'notALanguage',
  'outOfRange',
  'twice',
  'closesBeforeItOpens',
  'rangeBackwards',
  'moistStepOnDryWound',
  'milderNotKnown',
  'looser',
  'usesUnknownItem',
]);

/** The faults behind one issue: each with the path of the field itself, within a band that of the recipe's own field. */
function faultsOfOne(issue: z.core.$ZodIssue, above: readonly (string | number)[]): PlanFault[] {
  const path = [...above, ...(issue.path as (string | number)[])];
  if (OUR_FAULTS.has(issue.message)) return [{ path, fault: issue.message }];
  if (issue.code === 'unrecognized_keys')
    return issue.keys.slice(0, FAULTS_MOST).map((key) => ({ path: [...path, key], fault: 'unknownField' }));
  if (issue.code === 'invalid_union') {
    // A band is a recipe or a call; the one that was meant is the one whose fields are there.
    const meant = issue.errors.filter((branch) => branch.every((i) => i.path.length > 0 || !NOT_MEANT.has(i.code)));
    if (meant.length === 1) return (meant[0] ?? []).flatMap((inner) => faultsOfOne(inner, path));
  }
  return [{ path, fault: isMissing(issue) ? 'missing' : 'wrong' }];
}

const NOT_MEANT = new Set(['unrecognized_keys', 'invalid_type']);

function isMissing(issue: z.core.$ZodIssue): boolean {
  // Where a field decides which shape is meant, the issue carries the object around it.
  if (issue.code === 'invalid_union' && issue.discriminator !== undefined) {
    return (issue.input as Record<string, unknown> | undefined)?.[issue.discriminator] === undefined;
  }
  return issue.input === undefined && ['invalid_type', 'invalid_value', 'invalid_union'].includes(issue.code);
}

import * as z from 'zod/mini';
import { ANSWER_SCHEMAS, type Answers, mildestAnswers } from '../check/answers.ts';
import { hasOpenAnswers } from '../check/applies.ts';
import { BANDS, isFinding, QUESTION_IDS, type QuestionId } from '../check/questions.ts';
import { isLocalDay, type LocalDay } from '../schedule/day.ts';
import { assess } from './assess.ts';
import type { History, Moment } from './facts.ts';
import { isAtLeast, LEVELS, type Level, type Outcome } from './levels.ts';
import { DEFAULT_LIMITS, type Limits } from './limits.ts';
import { RULE_IDS } from './rule-levels.ts';
import { RULES } from './rules.ts';
import { levelForTheHour } from './who-to-call.ts';

/**
 * Escalation case files: JSON that a clinic's safety lead can write and run
 * without reading code. `answers` lists only what differs from the mildest
 * answer; `plan` is laid over a plain plan.
 */

const level = z.enum(LEVELS);
const ruleId = z.enum(RULE_IDS as [string, ...string[]]);
const finding = z.string().check(z.refine(isFinding, { error: 'a finding is written question:code' }));
const instant = z.string().check(
  z.refine(
    (text) =>
      /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2})$/.test(text) &&
      isLocalDay(text.slice(0, 10)) &&
      !Number.isNaN(Date.parse(text)),
    {
      error: 'a time is written 2031-03-04T09:00:00+00:00',
    },
  ),
);
const questionId = z.enum(QUESTION_IDS as [QuestionId, ...QuestionId[]]);
// `unsure` may stand alone where a list is meant.
const listAnswer = (id: 'unwell' | 'woundBed') =>
  z.pipe(
    z.transform((value) => (typeof value === 'string' ? [value] : value)),
    ANSWER_SCHEMAS[id],
  );
const answers = z.strictObject(
  Object.fromEntries(
    QUESTION_IDS.map((id) => [id, z.optional(id === 'unwell' || id === 'woundBed' ? listAnswer(id) : ANSWER_SCHEMAS[id])]),
  ),
) as unknown as z.ZodMiniType<Answers>;

const casePlan = z.strictObject({
  expectedDrainage: z.optional(
    z.tuple([z.enum(BANDS), z.enum(BANDS)]).check(z.refine(([low, high]) => BANDS.indexOf(low) <= BANDS.indexOf(high))),
  ),
  changeEveryHours: z.optional(z.number().check(z.positive())),
  keepDry: z.optional(z.boolean()),
  known: z.optional(z.array(finding)),
  asks: z.optional(z.array(z.string())),
  raise: z.optional(z.partialRecord(ruleId, level)),
  reviewBy: z.optional(z.string().check(z.refine(isLocalDay, { error: 'a day is written 2031-03-04' }))),
  clinicOpen: z.optional(z.boolean()),
  hasOutOfHours: z.optional(z.boolean()),
});

const past = z.strictObject({
  at: instant,
  answers: z.optional(answers),
  unanswered: z.optional(z.array(questionId)),
  change: z.optional(z.boolean()),
  measurement: z.optional(
    z.strictObject({
      lengthMm: z.optional(z.number().check(z.nonnegative())),
      widthMm: z.optional(z.number().check(z.nonnegative())),
      areaMm2: z.optional(z.number().check(z.nonnegative())),
    }),
  ),
  alert: z.optional(z.strictObject({ level, outcome: z.nullable(z.string()) })),
});

export const caseSchema = z.strictObject({
  name: z.string().check(z.minLength(1)),
  source: z.optional(z.string()),
  plan: z.optional(casePlan),
  now: z.optional(instant),
  history: z.optional(z.array(past)),
  answers: z.optional(answers),
  unanswered: z.optional(z.array(questionId)),
  expect: z
    .strictObject({
      level: z.optional(z.enum([...LEVELS, 'unfinished'])),
      atLeast: z.optional(level),
      rules: z.optional(z.array(ruleId)),
      notRules: z.optional(z.array(ruleId)),
    })
    .check(z.refine((e) => Object.keys(e).length > 0, { error: 'a case must expect something' })),
});
export type Case = z.infer<typeof caseSchema>;

const DEFAULT_NOW = '2031-03-04T09:00:00+00:00';

/** A written time as an instant, with the calendar day as written. */
function momentOf(text: string): Moment {
  return { at: Date.parse(text), day: text.slice(0, 10) as LocalDay };
}

function fullAnswers(differs: Answers = {}, unanswered: readonly QuestionId[] = []): Answers {
  const all: Answers = { ...mildestAnswers(), ...differs };
  for (const id of unanswered) delete all[id];
  return all;
}

/** The history a case describes. An item with answers is a full check, and a change unless it says otherwise. */
export function historyOf(items: NonNullable<Case['history']>): History {
  const checks: History['checks'][number][] = [];
  const changes: Moment[] = [];
  const measurements: History['measurements'][number][] = [];
  const alerts: History['alerts'][number][] = [];
  for (const item of items) {
    const moment = momentOf(item.at);
    let open = false;
    if (item.answers) {
      const full = fullAnswers(item.answers, item.unanswered);
      open = hasOpenAnswers(full);
      checks.push({ ...moment, answers: full });
    }
    if (item.change ?? open) changes.push(moment);
    if (item.measurement) measurements.push({ ...moment, ...item.measurement });
    if (item.alert) alerts.push({ ...moment, ...item.alert });
  }
  return { checks, changes, measurements, alerts };
}

/** A plain plan with the case's own settings laid over it. */
export function limitsOf(plan: NonNullable<Case['plan']> = {}): Limits {
  const { clinicOpen: _open, hasOutOfHours: _out, ...own } = plan;
  return { ...DEFAULT_LIMITS, ...own, reviewBy: own.reviewBy as LocalDay | undefined, raise: (own.raise ?? {}) as Record<string, Level> };
}

/** What a plan may not do: give a rule a lower level than the table. */
function loosened(raise: Readonly<Record<string, Level>>): string[] {
  return RULES.filter((r) => Object.hasOwn(raise, r.id) && !isAtLeast(raise[r.id] as Level, r.level)).map((r) => r.id);
}

/**
 * Runs one case.
 * @returns what did not hold, one sentence each; empty when the case passed.
 */
export function runCase(given: Case): string[] {
  const plan = given.plan ?? {};
  const problems = loosened((plan.raise ?? {}) as Readonly<Record<string, Level>>).map(
    (id) => `the plan may not lower ${id} below the table`,
  );
  const now = momentOf(given.now ?? DEFAULT_NOW);
  const found = assess(limitsOf(plan), historyOf(given.history ?? []), fullAnswers(given.answers, given.unanswered), now);
  // A case knows only whether the clinic is open; a closed one counts as not opening within a day.
  const told: Outcome = levelForTheHour(found.level, {
    open: plan.clinicOpen ?? true,
    hasOutOfHours: plan.hasOutOfHours ?? false,
    opensSoon: false,
  });
  return [
    ...problems,
    ...unmet(
      given.expect,
      told,
      found.fired.map((r) => r.rule as string),
    ),
  ];
}

function unmet(expect: Case['expect'], told: Outcome, fired: readonly string[]): string[] {
  const problems: string[] = [];
  if (expect.level && told !== expect.level)
    problems.push(`expected ${expect.level}, got ${told} (${fired.join(', ') || 'no rule fired'})`);
  if (expect.atLeast && (told === 'unfinished' || !isAtLeast(told, expect.atLeast))) {
    problems.push(`expected at least ${expect.atLeast}, got ${told} (${fired.join(', ') || 'no rule fired'})`);
  }
  for (const id of expect.rules ?? [])
    if (!fired.includes(id)) problems.push(`${id} should have fired; fired: ${fired.join(', ') || 'none'}`);
  for (const id of expect.notRules ?? []) if (fired.includes(id)) problems.push(`${id} should not have fired`);
  return problems;
}

export interface CaseResult {
  name: string;
  problems: string[];
}

/**
 * Runs every case in the parsed content of a case file. A case that is not
 * written correctly fails by itself and says where; the others still run.
 */
export function runCaseFile(content: unknown): CaseResult[] {
  if (!Array.isArray(content)) return [{ name: '(file)', problems: ['a case file is a JSON list of cases'] }];
  return content.map((raw, index) => {
    const parsed = caseSchema.safeParse(raw);
    const rawName = (raw as { name?: unknown } | null)?.name;
    const name = typeof rawName === 'string' && rawName ? rawName : `case ${index + 1}`;
    if (!parsed.success) {
      return { name, problems: parsed.error.issues.map((i) => `${i.path.join('.') || 'case'}: ${i.message}${keysOf(i)}`) };
    }
    return { name, problems: runCase(parsed.data) };
  });
}

const keysOf = (issue: object): string => ('keys' in issue && Array.isArray(issue.keys) ? ` (${issue.keys.join(', ')})` : '');

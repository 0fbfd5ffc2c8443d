import fc from 'fast-check';
import { Engine } from 'json-rules-engine';
import { mildestAnswers } from '../../app/care/check/answers.ts';
import { assess } from '../../app/care/escalation/assess.ts';
import { Facts } from '../../app/care/escalation/facts.ts';
import { gravest, type Level } from '../../app/care/escalation/levels.ts';
import { DEFAULT_LIMITS, type Limits } from '../../app/care/escalation/limits.ts';
import { RULES } from '../../app/care/escalation/rules.ts';
import { type Situation, situationArb } from '../care/escalation/arbitraries.ts';
import { inTurns, ms, type Row, times } from './figures.ts';
import { LAST, NOW, yearOfHistory } from './made.ts';
import { ENGINE_RULES, factsFor } from './rule-conditions.ts';

/** Random checks on which both must say the same, and how many of them are timed. */
const COMPARED = 3000;
const TIMED = 300;
const SEED = 20310304;

type Judge = (situation: Situation) => Promise<Verdict>;
interface Verdict {
  level: Level;
  /** Ids of the rules that fired, in the order of the alphabet. */
  fired: string[];
}

const ordered = (ids: readonly string[]): string[] => [...new Set(ids)].sort();

/** Made once and used again, as its documentation advises. */
function makeEngine(): Judge {
  const engine = new Engine([...ENGINE_RULES]);
  return async ({ limits, history, answers, now }) => {
    const { events } = await engine.run(factsFor(new Facts(limits, history, answers, now, false)));
    return { level: gravest(events.map((e) => e.params?.level as Level)), fired: ordered(events.map((e) => e.type)) };
  };
}

/** Random checks without what is no row of the table: known findings, raised rules and missing answers. */
function randomChecks(): Situation[] {
  const plain = (limits: Limits): Limits => ({ ...limits, known: [], raise: {} });
  return fc
    .sample(situationArb, { seed: SEED, numRuns: COMPARED })
    .map((s): Situation => ({ ...s, limits: plain(s.limits) }))
    .filter((s) => assess(s.limits, s.history, s.answers, s.now).missing.length === 0);
}

/** Holds both against each other. @throws when they ever differ, and when a rule of the table never fired. */
async function compare(checks: readonly Situation[], engine: Judge): Promise<void> {
  const seen = new Set<string>();
  for (const check of checks) {
    const { level, fired } = assess(check.limits, check.history, check.answers, check.now);
    const ours = ordered(fired.map((r) => r.rule));
    const theirs = await engine(check);
    if (theirs.level !== level || theirs.fired.join() !== ours.join())
      throw new Error(`they differ: ${level} by ${ours.join()}, and ${theirs.level} by ${theirs.fired.join()}`);
    for (const id of ours) seen.add(id);
  }
  const never = RULES.map((r) => r.id).filter((id) => !seen.has(id));
  if (never.length > 0) throw new Error(`compared too little: never fired were ${never.join(', ')}`);
}

/**
 * assess() against json-rules-engine running the same table, from the answers
 * to the level. The facts are worked out by the same code for both; then our
 * table of functions, or the engine's conditions, are gone through. Ours says
 * besides what is missing and why each rule fired; that is in its time.
 */
export async function rules(): Promise<Row[]> {
  const engine = makeEngine();
  const checks = randomChecks();
  await compare(checks, engine);
  const calm: Situation = { limits: DEFAULT_LIMITS, history: yearOfHistory(), answers: mildestAnswers(), now: { at: NOW, day: LAST } };
  const some = checks.slice(0, TIMED);
  const found = await inTurns(501, {
    ours: () => assess(calm.limits, calm.history, calm.answers, calm.now),
    theirs: () => engine(calm),
  });
  const random = await inTurns(15, {
    ours: () => some.map((s) => assess(s.limits, s.history, s.answers, s.now)),
    theirs: async () => {
      for (const s of some) await engine(s);
    },
  });
  const row = (what: string, ours: number, theirs: number, goal?: string): Row => ({
    what,
    ours: ms(ours),
    against: `${ms(theirs)} with json-rules-engine`,
    ratio: times(ours / theirs),
    ...(goal ? { goal } : {}),
  });
  return [
    row('assess(), a year of history', found.ours, found.theirs, 'under 1 ms'),
    row(`assess(), random checks (same level and rules in all ${checks.length})`, random.ours / some.length, random.theirs / some.length),
  ];
}

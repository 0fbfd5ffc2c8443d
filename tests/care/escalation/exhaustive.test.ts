import { describe, expect, it } from 'vitest';
import { type Answers, mildestAnswers } from '../../../app/care/check/answers.ts';
import { QUESTIONS, type QuestionId, question } from '../../../app/care/check/questions.ts';
import { assess } from '../../../app/care/escalation/assess.ts';
import { EMPTY_HISTORY, type History } from '../../../app/care/escalation/facts.ts';
import { DEFAULT_LIMITS, type Limits } from '../../../app/care/escalation/limits.ts';
import { RULES } from '../../../app/care/escalation/rules.ts';
import { hoursBefore, NAMEABLE, NOW, withoutGaps } from './arbitraries.ts';
import { rankOfOutcome } from './properties.ts';
import { worseAnswers } from './worse.ts';

/** Every pair and every triple of answer codes, each answer made worse in every way. */

const TEMPERATURES: readonly Answers['temperature'][] = [
  { value: 36.8, unit: 'Cel' },
  { value: 37.9, unit: 'Cel' },
  { value: 38, unit: 'Cel' },
  { value: 35.9, unit: 'Cel', again: 35.9 },
  { value: 34.9, unit: 'Cel', again: 34.9 },
  { feelsFeverish: 'no' },
  { feelsFeverish: 'unsure' },
  { feelsFeverish: 'yes' },
];
const WARM: Answers['warmth'] = { pairs: [{ site: 'heel', woundSide: 35, otherSide: 31 }], feel: 'same' };

function optionsOf(id: QuestionId): unknown[] {
  if (id === 'temperature') return [...TEMPERATURES];
  if (id === 'glucose') return [undefined, ...[53, 69, 240, 301].map((value) => ({ value, unit: 'mg/dL' }))];
  const codes: readonly string[] = question(id).codes;
  if (id === 'unwell' || id === 'woundBed') return [...codes.map((code) => [code]), ['unsure']];
  return [...codes, 'unsure', ...(id === 'warmth' ? [WARM] : [])];
}

const IDS: readonly QuestionId[] = QUESTIONS.map((q) => q.id).filter((id) => id !== 'note');
const OPTIONS = new Map(IDS.map((id) => [id, optionsOf(id)]));

/** Index pairs [milder, worse] of a question's options; `unsure` is above the mildest one. */
function stepsOf(id: QuestionId, limits: Limits): [number, number][] {
  const options = OPTIONS.get(id) ?? [];
  const key = (value: unknown): string => JSON.stringify(value) ?? 'undefined';
  const index = new Map(options.map((value, i) => [key(value), i]));
  const steps: [number, number][] = [];
  options.forEach((value, i) => {
    const from = { ...mildestAnswers(), [id]: value } as Answers;
    for (const worse of worseAnswers(from, limits)) {
      const j = index.get(key(worse[id]));
      if (j !== undefined && j !== i) steps.push([i, j]);
    }
    if (key(value).includes('"unsure"')) steps.push([id === 'temperature' ? 5 : 0, i]);
  });
  return steps;
}

/**
 * Walks a grid of answers to some questions and tells every step that lowers the level.
 * @returns the number of steps walked and the violations, as text.
 */
function walk(ids: readonly QuestionId[], limits: Limits, history: History, steps: Map<QuestionId, [number, number][]>) {
  const sizes = ids.map((id) => OPTIONS.get(id)?.length ?? 0);
  const total = sizes.reduce((a, b) => a * b, 1);
  const ranks = new Float64Array(total);
  const strides = sizes.map((_, k) => sizes.slice(k + 1).reduce((a, b) => a * b, 1));
  const answersAt = (n: number): Answers => {
    const own = ids.map((id, k) => [id, OPTIONS.get(id)?.[Math.floor(n / (strides[k] ?? 1)) % (sizes[k] ?? 1)]]);
    return { ...mildestAnswers(), ...Object.fromEntries(own) } as Answers;
  };
  for (let n = 0; n < total; n += 1) ranks[n] = rankOfOutcome(assess(limits, history, answersAt(n), NOW).level);
  let walked = 0;
  const violations: string[] = [];
  ids.forEach((id, k) => {
    const stride = strides[k] ?? 1;
    const size = sizes[k] ?? 1;
    for (const [from, to] of steps.get(id) ?? []) {
      for (let n = 0; n < total; n += 1) {
        if (Math.floor(n / stride) % size !== from) continue;
        walked += 1;
        const m = n + (to - from) * stride;
        if ((ranks[m] ?? 0) < (ranks[n] ?? 0)) {
          const shown = ids.map((i) => `${i} ${JSON.stringify(answersAt(n)[i])}`).join(', ');
          violations.push(`${shown}: worse ${id} ${JSON.stringify(answersAt(m)[id])}`);
        }
      }
    }
  });
  return { walked, violations };
}

/** @param about only combinations with this question, where the plan differs from the default in it alone. */
function walkAll(size: 2 | 3, limits: Limits, history: History, about?: string): { walked: number; violations: string[] } {
  const steps = new Map(IDS.map((id) => [id, stepsOf(id, limits)]));
  const out = { walked: 0, violations: [] as string[] };
  const visit = (start: number, chosen: readonly QuestionId[]): void => {
    if (chosen.length === size) {
      if (about !== undefined && !chosen.some((id) => id === about)) return;
      const { walked, violations } = walk(chosen, limits, history, steps);
      out.walked += walked;
      out.violations.push(...violations);
      return;
    }
    for (let i = start; i < IDS.length; i += 1) visit(i + 1, [...chosen, IDS[i] as QuestionId]);
  };
  visit(0, []);
  return out;
}

const questionOf = (finding: string): string => finding.split(':')[0] ?? '';

/** A day of bad news: yesterday's answers make every rule that looks back able to fire. */
const BAD_YESTERDAY: History = {
  ...EMPTY_HISTORY,
  checks: [
    {
      ...hoursBefore(30),
      answers: { ...mildestAnswers(), dressing: 'leaking', edge: 'whiteSoggy', offloading: 'hardly', warmth: WARM, drainageAmount: 'none' },
    },
  ],
  changes: [hoursBefore(60), hoursBefore(30)],
};

describe('every combination of answers', () => {
  it('[property 1] [property 3] all pairs with the default plan: no worse answer lowers the level', () => {
    const { walked, violations } = walkAll(2, DEFAULT_LIMITS, EMPTY_HISTORY);
    expect(violations.slice(0, 10)).toEqual([]);
    expect(walked).toBeGreaterThan(5000);
  });

  it('[property 1] [property 3] all triples with the default plan: no worse answer lowers the level', () => {
    const { walked, violations } = walkAll(3, DEFAULT_LIMITS, EMPTY_HISTORY);
    expect(violations.slice(0, 10)).toEqual([]);
    expect(walked).toBeGreaterThan(200_000);
  });

  it('[property 1] all pairs after a bad yesterday: no worse answer lowers the level', () => {
    expect(walkAll(2, { ...DEFAULT_LIMITS, expectedDrainage: ['light', 'moderate'] }, BAD_YESTERDAY).violations.slice(0, 10)).toEqual([]);
  });

  it('[property 1] [graver-than-raised] all pairs, each rule raised to an emergency in turn: no worse answer lowers the level', () => {
    const found = RULES.flatMap((rule) => {
      const limits: Limits = {
        ...DEFAULT_LIMITS,
        expectedDrainage: ['light', 'light'],
        callBands: ['none', 'moderate'],
        raise: { [rule.id]: 'emergency' },
      };
      return walkAll(2, limits, BAD_YESTERDAY).violations.map((v) => `${rule.id}: ${v}`);
    });
    expect(found.slice(0, 10)).toEqual([]);
  });

  it('[property 1] [two-signs] all pairs, each finding counted as a sign in turn: no worse answer lowers the level', () => {
    const found = NAMEABLE.flatMap((finding) =>
      walkAll(2, { ...DEFAULT_LIMITS, alsoSigns: [finding] }, EMPTY_HISTORY, questionOf(finding)).violations.map((v) => `${finding}: ${v}`),
    );
    expect(found.slice(0, 10)).toEqual([]);
  });

  it('[property 1] all pairs, each finding known in turn without a gap: no worse answer lowers the level', () => {
    const found = NAMEABLE.flatMap((finding) =>
      walkAll(2, { ...DEFAULT_LIMITS, known: withoutGaps([finding]) }, BAD_YESTERDAY, questionOf(finding)).violations.map(
        (v) => `${finding}: ${v}`,
      ),
    );
    expect(found.slice(0, 10)).toEqual([]);
  });
});

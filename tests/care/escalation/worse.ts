import type { Answers, TemperatureAnswer, WarmthAnswer } from '../../../app/care/check/answers.ts';
import { type Band, bandRank, type Code, type QuestionId, question } from '../../../app/care/check/questions.ts';
import type { Limits } from '../../../app/care/escalation/limits.ts';
import { CODED_IDS, EDGES_C, EDGES_MGDL } from './arbitraries.ts';

/**
 * What "making one answer worse" means (property 1): codes stand mildest first;
 * the grave codes at the end of a many-of question are of one rank; drainage
 * counts as worse only above the expected range; a number is worse further out.
 */

const GROUPS: Readonly<Record<'unwell' | 'woundBed', (code: string) => number>> = {
  unwell: (code) => (code === 'none' ? 0 : code === 'vomiting' ? 1 : 2),
  woundBed: (code) => (code === 'red' ? 0 : code === 'yellow' ? 1 : 2),
};

/** Whether `b` is the worse code of a one-of question. `unsure` has no place in the order. */
export function isWorseCode(id: QuestionId, a: string, b: string, limits: Limits): boolean {
  if (a === 'unsure' || b === 'unsure') return false;
  const codes: readonly string[] = question(id).codes;
  if (id === 'drainageAmount') {
    const [low, high] = limits.expectedDrainage.map(bandRank) as [number, number];
    const [from, to] = [bandRank(a as Band), bandRank(b as Band)];
    return from >= low && to > from && to > high;
  }
  return codes.indexOf(b) > codes.indexOf(a);
}

function worseLists(id: 'unwell' | 'woundBed', list: readonly string[]): string[][] {
  const codes: readonly string[] = question(id).codes;
  const mildestCode = codes[0] ?? '';
  const group = GROUPS[id];
  const added = codes
    .slice(1)
    .filter((code) => !list.includes(code))
    .map((code) => [...list.filter((c) => c !== 'none'), code]);
  const replaced = list
    .filter((c) => c !== 'unsure')
    .flatMap((c) => codes.filter((n) => group(n) > group(c) && !list.includes(n)).map((n) => list.map((x) => (x === c ? n : x))));
  const doubt = list.includes('unsure') ? [] : [[...list.filter((c) => c !== mildestCode), 'unsure']];
  return [...added, ...replaced, ...doubt];
}

function worseTemperatures(t: TemperatureAnswer): TemperatureAnswer[] {
  if ('feelsFeverish' in t) {
    const order = ['no', 'unsure', 'yes'] as const;
    return order.slice(order.indexOf(t.feelsFeverish) + 1).map((feelsFeverish) => ({ feelsFeverish }));
  }
  // An armpit may already be raised or feverish at 36.8 °C under a strict plan; only from 36.0 down is colder surely worse there.
  const mayCool = (now: number): boolean => now <= 36 || (now < 37 && t.site !== 'armpit');
  if (t.again === undefined) {
    const hotter = EDGES_C.filter((c) => c > t.value && c >= 36).map((value) => ({ ...t, value }));
    const colder = EDGES_C.filter((c) => c < 36 && mayCool(t.value)).map((c) => ({ ...t, value: c, again: c }));
    return [...hotter, ...colder];
  }
  const again = t.again;
  const moves = (now: number): number[] => EDGES_C.filter((c) => (now >= 36 && c > now) || (mayCool(now) && c < now && c < 36));
  // A low reading that is moved up would lose "low twice", so low readings only go down.
  return [...moves(t.value).map((value) => ({ ...t, value })), ...moves(again).map((second) => ({ ...t, again: second }))];
}

function worseWarmths(w: WarmthAnswer, limits: Limits): WarmthAnswer[] {
  const feels = (now: string): string[] => question('warmth').codes.filter((code) => isWorseCode('warmth', now, code, limits));
  if (typeof w === 'string') {
    const measured: WarmthAnswer = { pairs: [{ site: 'heel', woundSide: 35, otherSide: 31 }], feel: w };
    return [...feels(w).map((code) => code as Code<'warmth'>), measured];
  }
  const warmer = w.pairs.flatMap((p, i) =>
    [2.3, 4].map((more) => ({
      ...w,
      pairs: w.pairs.map((q, j) => (i === j ? { ...q, woundSide: Math.max(q.woundSide, p.otherSide + more) } : q)),
    })),
  );
  return [...warmer, ...(w.feel === undefined ? [] : feels(w.feel).map((code) => ({ ...w, feel: code as Code<'warmth'> })))];
}

function worseGlucose(value: number | undefined): number[] {
  if (value === undefined) return EDGES_MGDL.filter((n) => n < 70 || n > 180);
  return EDGES_MGDL.filter((n) => (value < 100 && n < value) || (value > 100 && n > value));
}

/** Every set of answers that differs in one question, answered worse. */
export function worseAnswers(answers: Answers, limits: Limits): Answers[] {
  const out: Answers[] = [];
  for (const id of CODED_IDS) {
    const given = answers[id];
    if (given === undefined) continue;
    const put = (value: unknown): void => void out.push({ ...answers, [id]: value } as Answers);
    if (id === 'unwell' || id === 'woundBed') worseLists(id, given as string[]).forEach(put);
    else if (id === 'temperature') worseTemperatures(given as TemperatureAnswer).forEach(put);
    else if (id === 'warmth') worseWarmths(given as WarmthAnswer, limits).forEach(put);
    else
      question(id)
        .codes.filter((code) => isWorseCode(id, given as string, code, limits))
        .forEach(put);
  }
  for (const value of worseGlucose(answers.glucose?.value)) out.push({ ...answers, glucose: { value, unit: 'mg/dL' } });
  return out;
}

/** Every set of answers with one sign more: a sign of infection, a fever, a grave sign. */
export function withOneSignMore(answers: Answers, limits: Limits): Answers[] {
  const signs: readonly [QuestionId, string][] = [
    ['swelling', 'new'],
    ['redness', 'wide'],
    ['pain', 'more'],
    ['warmth', 'warmer'],
    ['drainageColour', 'cloudyThick'],
    ['odour', 'newOrStronger'],
    ['footColour', 'newBlack'],
  ];
  const out = signs.flatMap(([id, code]) => {
    const given = answers[id];
    return typeof given === 'string' && isWorseCode(id, given, code, limits) ? [{ ...answers, [id]: code } as Answers] : [];
  });
  const unwell = (answers.unwell ?? []).filter((c) => c !== 'none');
  for (const code of ['vomiting', 'shakingChills', 'confusedOrDrowsy'] as const) {
    if (!unwell.includes(code)) out.push({ ...answers, unwell: [...unwell, code] });
  }
  for (const code of ['newBlack', 'deeper', 'boneOrTendon'] as const) {
    if (answers.woundBed && !answers.woundBed.includes(code)) out.push({ ...answers, woundBed: [...answers.woundBed, code] });
  }
  return out;
}

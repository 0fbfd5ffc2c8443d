import { type Answers, type GlucoseAnswer, mildestAnswers, type TemperatureAnswer, type WarmthAnswer } from '../care/check/answers.ts';
import { QUESTIONS, type QuestionId, type QuestionScope, question } from '../care/check/questions.ts';
import { type Plan, SIDES } from '../care/plan/plan.ts';
import { formatList, formatReading, inARow } from './format.ts';
import { apart, hasWords, t } from './i18n.ts';
import { footName, woundName } from './names.ts';

/** `dry`: the answer is about a wound that must stay dry, where its mildest look is "nothing new". */
interface About {
  dry?: boolean;
}

/** One answer in short words, such as "38.4 °C, in the mouth". */
export function answerText(id: QuestionId, answer: unknown, { dry = false }: About = {}): string {
  if (id === 'temperature') return temperatureText(answer as TemperatureAnswer);
  if (id === 'warmth') return warmthText(answer as WarmthAnswer);
  if (id === 'glucose') return formatReading((answer as GlucoseAnswer).value, (answer as GlucoseAnswer).unit);
  if (question(id).kind === 'words') return apart(String(answer));
  // "Nothing new" must not stand beside something new.
  const alone = !Array.isArray(answer) || answer.length === 1;
  const said = (code: string): string => {
    const forDry = `check:${id}.saidDry.${code}`;
    return t(dry && alone && hasWords(forDry) ? forDry : `check:${id}.said.${code}`);
  };
  return Array.isArray(answer) ? formatList((answer as string[]).map(said)) : said(String(answer));
}

function temperatureText(answer: TemperatureAnswer): string {
  if ('feelsFeverish' in answer) return t(`check:temperature.said.${answer.feelsFeverish}`);
  const readings = [answer.value, ...(answer.again === undefined ? [] : [answer.again])].map((v) => formatReading(v, answer.unit));
  return t('check:temperature.said.measured', {
    reading: readings.join(' / '),
    where: t(`check:temperature.site.${answer.site ?? 'mouth'}`),
  });
}

function warmthText(answer: WarmthAnswer): string {
  if (typeof answer === 'string') return t(`check:warmth.said.${answer}`);
  const pairs = answer.pairs.map((p) =>
    t('check:warmth.said.pair', {
      site: p.site,
      woundSide: formatReading(p.woundSide, p.unit ?? 'Cel'),
      otherSide: formatReading(p.otherSide, p.unit ?? 'Cel'),
    }),
  );
  return inARow([...(answer.feel ? [t(`check:warmth.said.${answer.feel}`)] : []), ...pairs], ';');
}

/** Answers line by line, in the order they are asked. @param only.notMildest leaves out what is as usual. */
export function answerLines(answers: Answers, only: About & { notMildest?: boolean } = {}): string[] {
  const mildest = mildestAnswers();
  return QUESTIONS.map((q) => q.id)
    .filter((id) => answers[id] !== undefined)
    .filter((id) => !only.notMildest || id === 'temperature' || JSON.stringify(answers[id]) !== JSON.stringify(mildest[id]))
    .map((id) => t('check:line', { question: t(`check:${id}.short`), answer: answerText(id, answers[id], only) }));
}

/**
 * What to say on the phone, without what is as usual: what concerns the whole
 * person once, what concerns a foot once for each foot (by name where wounds
 * are on both), the rest for each wound (by name where there are several).
 * @param answersByWound all answers that concern a wound, shared ones among them, by the id of the wound.
 */
export function phoneLines(plan: Pick<Plan, 'wounds'>, answersByWound: Readonly<Record<string, Answers | undefined>>): string[] {
  const { wounds } = plan;
  const notMildest = true;
  const sides = SIDES.filter((side) => wounds.some((w) => w.side === side));
  const shared = (of: readonly { id: string }[], scope: QuestionScope) =>
    answerLines(inScope(Object.assign({}, ...of.map((w) => answersByWound[w.id])), scope), { notMildest });
  const named = (name: string, lines: string[], several: boolean) =>
    several ? lines.map((line) => t('check:line', { question: name, answer: line })) : lines;
  return [
    ...shared(wounds, 'person'),
    ...sides.flatMap((side) => {
      const there = wounds.filter((w) => w.side === side);
      return named(footName(side), shared(there, 'foot'), sides.length > 1);
    }),
    ...wounds.flatMap((w) => {
      const lines = answerLines(inScope(answersByWound[w.id] ?? {}, 'wound'), { notMildest, dry: w.keepDry });
      return named(woundName(w), lines, wounds.length > 1);
    }),
  ];
}

/** The answers to the questions of one scope. */
const inScope = (answers: Answers, scope: QuestionScope): Answers =>
  Object.fromEntries(QUESTIONS.filter((q) => q.scope === scope).map((q) => [q.id, answers[q.id]])) as Answers;

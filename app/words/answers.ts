import { type Answers, type GlucoseAnswer, mildestAnswers, type TemperatureAnswer, type WarmthAnswer } from '../care/check/answers.ts';
import { QUESTIONS, type QuestionId, question } from '../care/check/questions.ts';
import { formatList, formatReading } from './format.ts';
import { t } from './i18n.ts';

/** One answer in short words, such as "38.4 °C, in the mouth". */
export function answerText(id: QuestionId, answer: unknown): string {
  if (id === 'temperature') return temperatureText(answer as TemperatureAnswer);
  if (id === 'warmth') return warmthText(answer as WarmthAnswer);
  if (id === 'glucose') return formatReading((answer as GlucoseAnswer).value, (answer as GlucoseAnswer).unit);
  if (Array.isArray(answer)) return formatList((answer as string[]).map((code) => t(`check:${id}.said.${code}`)));
  if (question(id).kind === 'words') return String(answer);
  return t(`check:${id}.said.${String(answer)}`);
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
  return [...(answer.feel ? [t(`check:warmth.said.${answer.feel}`)] : []), ...pairs].join('; ');
}

/** Answers line by line, in the order they are asked. @param only.notMildest leaves out what is as usual. */
export function answerLines(answers: Answers, only: { notMildest?: boolean } = {}): string[] {
  const mildest = mildestAnswers();
  return QUESTIONS.map((q) => q.id)
    .filter((id) => answers[id] !== undefined)
    .filter((id) => !only.notMildest || id === 'temperature' || JSON.stringify(answers[id]) !== JSON.stringify(mildest[id]))
    .map((id) => t('check:line', { question: t(`check:${id}.short`), answer: answerText(id, answers[id]) }));
}

import type { Question, QuestionId } from '../care/check/questions.ts';
import { hasWords, t } from '../words/i18n.ts';
import type { Choice } from './choice.tsx';

/** What a question asks, in the words for a wound that must stay dry where there are any. */
export function askText(id: QuestionId, dry = false): string {
  const forDry = `check:${id}.askDry`;
  return t(dry && hasWords(forDry) ? forDry : `check:${id}.ask`);
}

/** The codes of a question as they stand on screen: "none of these" comes after what it speaks of, or it is tapped unread; `unsure` last. */
const shown = ({ id, codes }: Question): string[] => {
  const signs = id === 'unwell' ? codes.filter((code) => code !== 'none') : codes;
  return [...signs, ...(signs.length < codes.length ? ['none'] : []), 'unsure'];
};

/** The codes of a question as choices. */
export const choicesOf = (question: Question, dry = false): Choice[] =>
  shown(question).map((code) => {
    const forDry = `check:${question.id}.codeDry.${code}`;
    const own = dry && hasWords(forDry) ? forDry : `check:${question.id}.code.${code}`;
    const hint = `check:${question.id}.hint.${code}`;
    return {
      value: code,
      label: t(code === 'unsure' && !hasWords(own) ? 'check:unsure' : own),
      hint: hasWords(hint) ? t(hint) : undefined,
    };
  });

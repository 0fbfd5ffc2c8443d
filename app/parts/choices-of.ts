import type { Question } from '../care/check/questions.ts';
import { hasWords, t } from '../words/i18n.ts';
import type { Choice } from './choice.tsx';

/** The codes of a question as choices, `unsure` last. */
export const choicesOf = (question: Question): Choice[] =>
  [...question.codes, 'unsure'].map((code) => {
    const own = `check:${question.id}.code.${code}`;
    const hint = `check:${question.id}.hint.${code}`;
    return {
      value: code,
      label: t(code === 'unsure' && !hasWords(own) ? 'check:unsure' : own),
      hint: hasWords(hint) ? t(hint) : undefined,
    };
  });

import type { Answers } from '../care/check/answers.ts';
import { needsSecondReading } from '../care/check/applies.ts';
import type { Question } from '../care/check/questions.ts';
import { hasWords, t } from '../words/i18n.ts';
import { Choices } from './choice.tsx';
import { choicesOf } from './choices-of.ts';
import { WordsField } from './number-field.tsx';
import { Glucose } from './question-glucose.tsx';
import type { QuestionProps } from './question-props.ts';
import { Temperature } from './question-temperature.tsx';
import { Warmth } from './question-warmth.tsx';

/** The part of a screen that takes the answer to one question. */
export function QuestionFields(props: QuestionProps) {
  const { question, answer, onAnswer, complain } = props;
  const open = complain && answer === undefined;
  return (
    <>
      {hasWords(`check:${question.id}.look`) && <p class="lead">{t(`check:${question.id}.look`)}</p>}
      {open && question.kind !== 'temperature' && (
        <p class="error" role="alert">
          {t(question.kind === 'manyOf' ? 'check:chooseAll' : 'check:chooseOne')}
        </p>
      )}
      {question.kind === 'oneOf' && (
        <Choices
          legend={t(`check:${question.id}.ask`)}
          choices={choicesOf(question)}
          chosen={typeof answer === 'string' ? [answer] : []}
          onChange={([code]) => onAnswer(code)}
        />
      )}
      {question.kind === 'manyOf' && <ManyOf {...props} />}
      {question.kind === 'temperature' && <Temperature {...props} />}
      {question.kind === 'warmth' && <Warmth {...props} />}
      {question.kind === 'glucose' && <Glucose {...props} />}
      {question.kind === 'words' && (
        <WordsField
          label={t('check:note.ask')}
          value={typeof answer === 'string' ? answer : ''}
          onChange={(text) => onAnswer(text.trim() === '' ? undefined : text)}
        />
      )}
    </>
  );
}

function ManyOf({ question, answer, onAnswer }: QuestionProps) {
  const chosen = Array.isArray(answer) ? (answer as string[]) : [];
  return (
    <Choices
      legend={t(`check:${question.id}.ask`)}
      choices={choicesOf(question)}
      chosen={chosen}
      many
      onChange={(next) => {
        const added = next.find((code) => !chosen.includes(code));
        // "None of these" and any of these cannot both be true; the last tap counts.
        const list = added === 'none' ? ['none'] : next.filter((code) => code !== 'none');
        onAnswer(list.length > 0 ? list : undefined);
      }}
    />
  );
}

/** Whether the person may go on with this answer. */
export function isAnswered(question: Question, answer: unknown): boolean {
  if (question.kind === 'glucose' || question.kind === 'words') return true;
  if (question.kind === 'temperature') return answer !== undefined && !needsSecondReading(answer as Answers['temperature']);
  return answer !== undefined;
}

import type { Answers } from '../care/check/answers.ts';
import { needsSecondReading } from '../care/check/applies.ts';
import type { Question } from '../care/check/questions.ts';
import { hasWords, t } from '../words/i18n.ts';
import { Choices } from './choice.tsx';
import { askText, choicesOf } from './choices-of.ts';
import { WordsField } from './number-field.tsx';
import { Glucose } from './question-glucose.tsx';
import type { QuestionProps } from './question-props.ts';
import { Temperature } from './question-temperature.tsx';
import { Warmth } from './question-warmth.tsx';

/** The part of a screen that takes the answer to one question. */
export function QuestionFields(props: QuestionProps) {
  const { question, answer, onAnswer, complain, dry } = props;
  const forDry = `check:${question.id}.lookDry`;
  const look = dry && hasWords(forDry) ? forDry : `check:${question.id}.look`;
  const open = complain && answer === undefined ? t(question.kind === 'manyOf' ? 'check:chooseAll' : 'check:chooseOne') : undefined;
  return (
    <>
      {/* What to do before measuring goes with measuring. */}
      {question.kind !== 'temperature' && hasWords(look) && <p class="lead">{t(look)}</p>}
      {question.kind === 'oneOf' && (
        <Choices
          legend={askText(question.id, dry)}
          choices={choicesOf(question, dry)}
          chosen={typeof answer === 'string' ? [answer] : []}
          error={open}
          onChange={([code]) => onAnswer(code)}
        />
      )}
      {question.kind === 'manyOf' && <ManyOf {...props} error={open} />}
      {question.kind === 'temperature' && <Temperature {...props} />}
      {question.kind === 'warmth' && <Warmth {...props} error={open} />}
      {question.kind === 'glucose' && <Glucose {...props} />}
      {question.kind === 'words' && (
        <WordsField
          label={t('check:note.ask')}
          titled
          value={typeof answer === 'string' ? answer : ''}
          onChange={(text) => onAnswer(text.trim() === '' ? undefined : text)}
        />
      )}
    </>
  );
}

function ManyOf({ question, answer, onAnswer, dry, error }: QuestionProps & { error: string | undefined }) {
  const chosen = Array.isArray(answer) ? (answer as string[]) : [];
  const nothing = dry && question.id === 'woundBed' ? 'red' : 'none';
  return (
    <Choices
      legend={askText(question.id, dry)}
      choices={choicesOf(question, dry)}
      chosen={chosen}
      many
      error={error}
      onChange={(next) => {
        const added = next.find((code) => !chosen.includes(code));
        // "None of these" (on a dry wound "nothing new") and any of these cannot both be true; the last tap counts.
        const list = added === nothing ? [nothing] : next.filter((code) => code !== nothing);
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

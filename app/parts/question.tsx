import { useEffect, useRef } from 'preact/hooks';
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
  const open = complain && answer === undefined;
  return (
    <>
      {hasWords(look) && <p class="lead">{t(look)}</p>}
      {open && question.kind !== 'temperature' && (
        <Complaint text={t(question.kind === 'manyOf' ? 'check:chooseAll' : 'check:chooseOne')} />
      )}
      {question.kind === 'oneOf' && (
        <Choices
          legend={askText(question.id, dry)}
          choices={choicesOf(question, dry)}
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

/** What to do before going on, brought into view: with large text it may lie under the button. */
function Complaint({ text }: { text: string }) {
  const line = useRef<HTMLParagraphElement>(null);
  useEffect(() => line.current?.scrollIntoView?.({ block: 'center' }), []);
  return (
    <p class="error" role="alert" ref={line}>
      {text}
    </p>
  );
}

function ManyOf({ question, answer, onAnswer, dry }: QuestionProps) {
  const chosen = Array.isArray(answer) ? (answer as string[]) : [];
  const nothing = dry && question.id === 'woundBed' ? 'red' : 'none';
  return (
    <Choices
      legend={askText(question.id, dry)}
      choices={choicesOf(question, dry)}
      chosen={chosen}
      many
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

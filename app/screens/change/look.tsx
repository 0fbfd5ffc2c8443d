import { useState } from 'preact/hooks';
import { normalLooks } from '../../care/change/sequence.ts';
import { lookQuestions } from '../../care/check/items.ts';
import { lastFound } from '../../care/log/history.ts';
import type { Wound } from '../../care/plan/plan.ts';
import { askText } from '../../parts/choices-of.ts';
import { Drawing } from '../../parts/drawing.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { isAnswered, QuestionFields } from '../../parts/question.tsx';
import type { ChangeDraft } from '../../store/drafts.ts';
import { formatNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { unitsOf } from '../units.ts';
import { StepOver } from './step-over.tsx';

interface Props {
  wound: Wound;
  /** Which wound it is, where the plan has several. */
  about?: string | undefined;
  draft: ChangeDraft;
  busy: boolean;
  failed: boolean;
  at: number;
  of: number;
  onBack: () => void;
  onStop: () => void;
  onSkipIntro: () => void;
  onAnswer: (id: string, answer: unknown) => void;
  onNext: (look: number, finished: boolean) => void;
}

/** The look at the open wound: first what is normal, then one question a screen. */
export function Look({ wound, about, draft, busy, failed, at, of, onBack, onStop, onSkipIntro, onAnswer, onNext }: Props) {
  const { notebook, state } = useBook();
  const [complain, setComplain] = useState<string | undefined>();
  const questions = lookQuestions();
  if (draft.look === 0) {
    const normal = normalLooks(wound, lastFound(state.entries, wound.id, notebook.device.now()));
    return (
      <Page
        title={t('change:step.look.title')}
        focusKey="look-intro"
        over={<StepOver at={at} of={of} about={about} />}
        progress={at / of}
        back={onBack}
        foot={
          <button type="button" class="button button-main" onClick={onSkipIntro}>
            {t('change:lookNow')}
          </button>
        }
      >
        <Drawing name="look" />
        <p class="lead">{t('change:step.look.text')}</p>
        {normal.length > 0 && (
          <div class="notice">
            <h2>{t('change:normalTitle')}</h2>
            {normal.map((look) => (
              <p key={look}>{t(`change:normal.${look}`)}</p>
            ))}
          </div>
        )}
        <button type="button" class="button button-quiet" onClick={onStop}>
          {t('change:stop')}
        </button>
      </Page>
    );
  }
  const index = Math.min(draft.look, questions.length) - 1;
  const question = questions[index];
  if (!question) return null;
  const answer = draft.answers[question.id];
  const next = () => {
    if (!isAnswered(question, answer)) return setComplain(question.id);
    setComplain(undefined);
    onNext(Math.min(index + 2, questions.length), index + 1 === questions.length);
  };
  return (
    <Page
      title={askText(question.id, wound.keepDry)}
      focusKey={question.id}
      over={
        <>
          <span>{t('change:lookProgress', { at: formatNumber(index + 1), of: formatNumber(questions.length) })}</span>
          {about && <span class="about">{about}</span>}
        </>
      }
      progress={at / of}
      back={onBack}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" {...press(next, busy)}>
            {t('common:next')}
          </button>
        </>
      }
    >
      <QuestionFields
        key={question.id}
        question={question}
        answer={answer}
        units={unitsOf(state)}
        dry={wound.keepDry}
        complain={complain === question.id}
        onAnswer={(given) => onAnswer(question.id, given)}
      />
    </Page>
  );
}

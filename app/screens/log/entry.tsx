import { useState } from 'preact/hooks';
import type { Answers } from '../../care/check/answers.ts';
import { QUESTIONS } from '../../care/check/questions.ts';
import { answersForWound } from '../../care/log/history.ts';
import { AMENDABLE, type LogRecord } from '../../care/log/records.ts';
import type { Plan } from '../../care/plan/plan.ts';
import { usedRecordsOf } from '../../care/supplies/uses.ts';
import { LevelWord } from '../../parts/level.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { WordsField } from '../../parts/number-field.tsx';
import { Page } from '../../parts/page.tsx';
import { Reasons } from '../../parts/reasons.tsx';
import { answerText } from '../../words/answers.ts';
import { formatDay, formatTime, inARow } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import { unitsOf } from '../units.ts';
import { EntryPhoto } from './entry-photo.tsx';
import { entryLines, entrySubtitle, entryTitle, whoText } from './entry-words.ts';

/** One record in full, with its earlier versions; it can be corrected or withdrawn, never erased. */
export function EntryScreen({ id }: { id: string }) {
  const { state, book } = useBook();
  const [withdrawing, setWithdrawing] = useState(false);
  const entry = state.entries.find((e) => e.first.id === id);
  if (!entry) {
    return (
      <Page title={t('log:notHere')} back={() => go('log')}>
        <p>{t('log:notHereText')}</p>
      </Page>
    );
  }
  const { now, first, voided, versions } = entry;
  if (withdrawing) return <Withdraw target={first.id} onBack={() => setWithdrawing(false)} />;
  const canCorrect = AMENDABLE.includes(first.kind) && !voided;
  const plan = planOf(now, book.plan, book.earlierPlans);
  return (
    <Page
      title={entryTitle(now)}
      over={inARow([formatDay(first.day), formatTime(first.at, first.zone)])}
      back={() => go('log')}
      foot={
        canCorrect && (
          <>
            {(now.kind === 'check' || now.kind === 'change' || now.kind === 'note') && (
              <a class="button button-second" href={`#/log/${encodeURIComponent(first.id)}/correct`}>
                {t('log:correct')}
              </a>
            )}
            <button type="button" class="button button-quiet" onClick={() => setWithdrawing(true)}>
              {t('log:withdraw')}
            </button>
          </>
        )
      }
    >
      {voided && (
        <div class="notice">
          <p>{t('log:voidedOn', { day: formatDay(voided.day, 'short'), who: whoText(voided) })}</p>
          {voided.why && <p dir="auto">{voided.why}</p>}
        </div>
      )}
      <RecordBody record={now} plan={plan} />
      <dl class="meta">
        <dt>{t('log:byWhom')}</dt>
        <dd>{whoText(now)}</dd>
        {now.plan && (
          <>
            <dt>{t('log:underPlan')}</dt>
            <dd>{t('log:revision', { revision: now.plan.revision })}</dd>
          </>
        )}
        <dt>{t('log:zone')}</dt>
        <dd>{now.zone}</dd>
      </dl>
      {versions.length > 1 && (
        <details class="versions">
          <summary>{t('log:before', { count: versions.length - 1 })}</summary>
          {versions
            .filter((v) => v !== now)
            .map((v) => (
              <section key={v.id} class="version">
                <h2>{inARow([formatDay(v.day, 'short'), formatTime(v.at, v.zone)])}</h2>
                <RecordBody record={v} plan={plan} />
              </section>
            ))}
        </details>
      )}
    </Page>
  );
}

/** The plan a record was made under, as far as it is kept; else the present one. */
function planOf(record: LogRecord, now: Plan, earlier: readonly Plan[]): Plan {
  const same = (p: Plan) => p.id === record.plan?.id && p.revision === record.plan.revision;
  return [now, ...earlier].find(same) ?? now;
}

function RecordBody({ record, plan }: { record: LogRecord; plan: Plan }) {
  const { state } = useBook();
  const unit = unitsOf(state).length;
  const subtitle = entrySubtitle(record, plan, unit);
  const lines = entryLines(record, unit);
  return (
    <>
      {subtitle && <p class="lead">{subtitle}</p>}
      {lines.length > 0 && (
        <dl class="answers">
          {lines.map(({ name, value }) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
      )}
      {record.kind === 'photo' && <EntryPhoto record={record} />}
      {'judgement' in record && record.judgement && (
        <>
          <p>
            <LevelWord level={record.judgement.told} />
          </p>
          <Reasons fired={record.judgement.fired} />
          {record.judgement.quieted.length > 0 && (
            <>
              <h2>{t('log:quieted')}</h2>
              <Reasons fired={record.judgement.quieted} />
            </>
          )}
        </>
      )}
      {record.kind === 'alert' && <Reasons fired={record.fired} />}
      {record.kind === 'check' && <CheckAnswers record={record} plan={plan} />}
      {record.kind === 'change' && (
        <>
          {record.answers && <AnswerList answers={record.answers} dry={plan.wounds.find((w) => w.id === record.wound)?.keepDry} />}
          <h2>{t('log:steps')}</h2>
          <ul class="facts">
            {record.steps.map((s) => {
              const title = t(`change:step.${s.step}.title`);
              return (
                <li key={s.step}>
                  {s.state === 'done' ? title : t('check:line', { question: title, answer: t(`log:state.${s.state}`) })}
                  {s.note && (
                    <q class="said" dir="auto">
                      {s.note}
                    </q>
                  )}
                </li>
              );
            })}
          </ul>
        </>
      )}
    </>
  );
}

function CheckAnswers({ record, plan }: { record: Extract<LogRecord, { kind: 'check' }>; plan: Plan }) {
  if (plan.wounds.length === 1 && plan.wounds[0]) return <AnswerList answers={answersForWound(record, plan.wounds[0])} />;
  return (
    <>
      <AnswerList answers={record.person} />
      {plan.wounds.map((wound) => (
        <section key={wound.id}>
          <h2>{woundName(wound)}</h2>
          <AnswerList answers={{ ...record.feet[wound.side], ...record.wounds[wound.id] }} />
        </section>
      ))}
    </>
  );
}

function AnswerList({ answers, dry = false }: { answers: Answers; dry?: boolean | undefined }) {
  return (
    <dl class="answers">
      {QUESTIONS.filter((q) => answers[q.id] !== undefined).map((q) => (
        <div key={q.id}>
          <dt>{t(`check:${q.id}.short`)}</dt>
          <dd>{answerText(q.id, answers[q.id], { dry })}</dd>
        </div>
      ))}
    </dl>
  );
}

function Withdraw({ target, onBack }: { target: string; onBack: () => void }) {
  const { notebook, state } = useBook();
  const [why, setWhy] = useState('');
  const [failed, setFailed] = useState(false);
  const save = async () => {
    try {
      const words = why.trim();
      // What a withdrawn change used goes back with it.
      const used = usedRecordsOf(state.entries, target).filter((e) => !e.voided);
      const targets = [target, ...used.map((e) => e.first.id)];
      await notebook.append(
        targets.map((t) => ({ ...notebook.stamp(), kind: 'void' as const, target: t, ...(words ? { why: words } : {}) })),
      );
      onBack();
    } catch {
      setFailed(true);
    }
  };
  return (
    <Page
      title={t('log:withdrawTitle')}
      back={onBack}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" onClick={() => void save()}>
            {t('log:withdrawSure')}
          </button>
          <button type="button" class="button button-quiet" onClick={onBack}>
            {t('common:cancel')}
          </button>
        </>
      }
    >
      <p class="lead">{t('log:withdrawText')}</p>
      <WordsField label={t('log:withdrawWhy')} value={why} rows={3} onChange={setWhy} />
    </Page>
  );
}

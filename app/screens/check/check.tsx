import { useState } from 'preact/hooks';
import { type CheckItem, checkItems, sortAnswers } from '../../care/check/items.ts';
import { isStale } from '../../care/check/stale.ts';
import { byAnswers } from '../../care/escalation/judge.ts';
import { isAtLeast, type Level } from '../../care/escalation/levels.ts';
import type { CheckRecord, Judgement } from '../../care/log/records.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { isAnswered, QuestionFields } from '../../parts/question.tsx';
import { isFelt } from '../../parts/question-temperature.tsx';
import type { CheckDraft } from '../../store/drafts.ts';
import { formatNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { aboutText } from '../../words/names.ts';
import { useBook, useNow } from '../context.ts';
import { go, replace } from '../route.ts';
import { alertFor, judgeItems, record } from '../sitting.ts';
import { unitsOf } from '../units.ts';
import { useCalm } from '../use-calm.ts';
import { OldCheck } from './old.tsx';
import { CheckStop } from './stop.tsx';

/** The daily check, one question a screen. One left on an earlier day is written down first, and a new one begins. */
export function CheckScreen() {
  const { notebook, state } = useBook();
  const now = useNow(notebook);
  const draft = state.checkDraft;
  const isOld = draft && isStale(draft.startedAt, now, notebook.today(), notebook.device.zone());
  return isOld ? <OldCheck draft={draft} /> : <CheckRun />;
}

function CheckRun() {
  const { notebook, state, book } = useBook();
  const items = checkItems(book.plan);
  // Once it is being written, what is on screen stays until the next page: the first question of a new check would flash up.
  const [finished, setFinished] = useState<CheckDraft | undefined>();
  const draft: CheckDraft = finished ?? state.checkDraft ?? { id: '', startedAt: '', answers: {} };
  const index = Math.max(
    0,
    items.findIndex((i) => i.key === draft.at),
  );
  const item = items[index] as CheckItem;
  const [complain, setComplain] = useState<string | undefined>();
  const [unclear, setUnclear] = useState<string | undefined>();
  const [busy, setBusy] = useState(false);
  /** Whether the person turned to the question without a thermometer, or back: the title takes the focus once, the number keeps it. */
  const [felt, setFelt] = useState<boolean | undefined>();
  const [failed, setFailed] = useState(false);
  const answer = draft.answers[item.key];
  const isCalm = useCalm(item.key);

  const save = (part: Partial<CheckDraft>): CheckDraft => {
    const started = draft.id === '' ? { id: notebook.device.newId(), startedAt: new Date(notebook.device.now()).toISOString() } : {};
    const next = { ...draft, ...started, ...part };
    void notebook.saveCheckDraft(next).catch(() => setFailed(true));
    return next;
  };

  const finish = async (done: CheckDraft, judgement: Judgement) => {
    setFinished(done);
    try {
      const made: CheckRecord = { ...notebook.stamp(done.id), kind: 'check', ...sortAnswers(book.plan, done.answers), judgement };
      const alert = await record(notebook, made, judgement);
      await notebook.dropDraftOf('check');
      const shown = alert ?? notebook.openAlerts().find((a) => a.from === made.id);
      if (shown) replace('alert', shown.id);
      else replace('checked', made.id);
    } catch {
      setFailed(true);
      setFinished(undefined);
    }
  };

  const onNext = () => {
    if (!isAnswered(item.question, answer) || unclear === item.key) return isCalm() ? setComplain(item.key) : undefined;
    setComplain(undefined);
    const judgement = judgeItems(notebook, draft.answers);
    const grave = gravestByAnswers(judgement);
    const isNew = alertFor(notebook, byAnswers(judgement), draft.id) !== undefined;
    if (grave === 'emergency' && isNew) return void finish(draft, judgement);
    if (grave === 'callNow' && isNew && draft.told === undefined) return void stopWith(judgement);
    advance();
  };

  /** The alert is written down at once: who closes the app here is still reminded of it. */
  const stopWith = async (judgement: Judgement) => {
    setBusy(true);
    try {
      const alert = alertFor(notebook, judgement, draft.id);
      if (alert) await notebook.append([alert]);
      save({ at: item.key, alert: alert?.id });
    } catch {
      setFailed(true);
    }
    setBusy(false);
  };

  const advance = (part: Partial<CheckDraft> = {}) => {
    setFelt(undefined);
    const next = items[index + 1];
    if (next) save({ ...part, at: next.key });
    else void finish({ ...draft, ...part }, judgeItems(notebook, draft.answers));
  };

  const onBack = () => {
    setComplain(undefined);
    setFelt(undefined);
    const before = items[index - 1];
    if (before) save({ at: before.key });
    else go('today');
  };

  const told = draft.told === undefined ? notebook.openAlerts().find((a) => a.id === draft.alert) : undefined;
  if (told) {
    return (
      <CheckStop
        alert={told}
        busy={busy || finished !== undefined}
        failed={failed}
        onStop={() => void finish(draft, judgeItems(notebook, draft.answers))}
        onRest={() => advance({ told: 'callNow' })}
      />
    );
  }

  const about = aboutText(book.plan, item);
  const isFeeling = item.question.kind === 'temperature' && (felt ?? isFelt(answer));
  return (
    <Page
      title={t(isFeeling ? 'check:temperature.feelAsk' : `check:${item.question.id}.ask`)}
      focusKey={isFeeling || felt === false ? `${item.key}-felt` : item.key}
      over={
        <>
          <span>{t('common:progress', { at: formatNumber(index + 1), of: formatNumber(items.length) })}</span>
          {about && <span class="about">{about}</span>}
        </>
      }
      progress={(index + 1) / items.length}
      back={onBack}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" {...press(onNext, busy || finished !== undefined)}>
            {index + 1 < items.length ? t('common:next') : t('check:finish')}
          </button>
        </>
      }
    >
      <QuestionFields
        key={item.key}
        question={item.question}
        answer={answer}
        units={unitsOf(state)}
        warmthSites={book.plan.asks.includes('warmth') ? book.plan.warmthSites : undefined}
        complain={complain === item.key}
        onCalm={() => setComplain(undefined)}
        onFelt={setFelt}
        onUnclear={(is) => setUnclear(is ? item.key : undefined)}
        onAnswer={(given) => save({ at: item.key, answers: { ...draft.answers, [item.key]: given } })}
      />
    </Page>
  );
}

function gravestByAnswers(judgement: Judgement): Level {
  const fired = byAnswers(judgement).fired;
  if (fired.some((r) => r.level === 'emergency')) return 'emergency';
  return fired.some((r) => isAtLeast(r.level, 'callNow')) ? 'callNow' : 'carryOn';
}

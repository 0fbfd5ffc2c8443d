import { useState } from 'preact/hooks';
import type { Answers } from '../../care/check/answers.ts';
import { itemAnswers } from '../../care/check/item-answers.ts';
import { type CheckItem, checkItems, lookQuestions, sortAnswers } from '../../care/check/items.ts';
import type { ChangeRecord, CheckRecord, LogRecord } from '../../care/log/records.ts';
import { type Entry, standingOne } from '../../care/log/timeline.ts';
import type { Plan } from '../../care/plan/plan.ts';
import { Choices } from '../../parts/choice.tsx';
import { askText } from '../../parts/choices-of.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { WordsField } from '../../parts/number-field.tsx';
import { Page } from '../../parts/page.tsx';
import { isAnswered, QuestionFields } from '../../parts/question.tsx';
import { answerText } from '../../words/answers.ts';
import { t } from '../../words/i18n.ts';
import { aboutText } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { go, replace } from '../route.ts';
import { judgeCheckParts, judgeLook, record } from '../sitting.ts';
import { unitsOf } from '../units.ts';
import { useKeptText } from '../use-kept-text.ts';

/** Corrects a record by writing a new one beside it. The old one stays in the log. */
export function CorrectScreen({ id }: { id: string }) {
  const { state } = useBook();
  const entry = state.entries.find((e) => e.first.id === id);
  const kind = entry?.now.kind;
  if (!entry || entry.voided || (kind !== 'check' && kind !== 'change' && kind !== 'note')) {
    return (
      <Page title={t('log:notHere')} back={() => go('log')}>
        <p>{t('log:notHereText')}</p>
      </Page>
    );
  }
  if (entry.now.kind === 'note') return <NoteScreen entry={entry as Entry<Extract<LogRecord, { kind: 'note' }>>} />;
  return <CorrectAnswers entry={entry as Entry<CheckRecord | ChangeRecord>} />;
}

/** The answers of a record by item key, as the questions are shown. */
function itemsOf(now: CheckRecord | ChangeRecord, plan: Plan): { item: CheckItem; answer: unknown }[] {
  if (now.kind === 'change') {
    return lookQuestions().map((question) => ({
      item: { key: question.id, question, wound: now.wound },
      answer: now.answers?.[question.id],
    }));
  }
  const answers = itemAnswers(plan, now);
  return checkItems(plan).map((item) => ({ item, answer: answers[item.key] }));
}

function CorrectAnswers({ entry }: { entry: Entry<CheckRecord | ChangeRecord> }) {
  const { notebook, state, book } = useBook();
  const { now, first } = entry;
  const items = itemsOf(now, book.plan);
  const [changed, setChanged] = useState<Record<string, unknown>>({});
  const [editing, setEditing] = useState<CheckItem | undefined>();
  const [complain, setComplain] = useState(false);
  const [unclear, setUnclear] = useState(false);
  const [failed, setFailed] = useState(false);
  const answerOf = (key: string, stored: unknown): unknown => (Object.hasOwn(changed, key) ? changed[key] : stored);

  const isDry = (item: CheckItem): boolean => book.plan.wounds.find((w) => w.id === item.wound)?.keepDry ?? false;

  if (editing) {
    const stored = items.find((i) => i.item.key === editing.key)?.answer;
    const answer = answerOf(editing.key, stored);
    return (
      <Page
        title={askText(editing.question.id, isDry(editing))}
        focusKey={editing.key}
        over={aboutText(book.plan, editing)}
        back={() => setEditing(undefined)}
        foot={
          <button
            type="button"
            class="button button-main"
            onClick={() => (isAnswered(editing.question, answer) && !unclear ? setEditing(undefined) : setComplain(true))}
          >
            {t('common:done')}
          </button>
        }
      >
        <QuestionFields
          key={editing.key}
          question={editing.question}
          answer={answer}
          units={unitsOf(state)}
          dry={isDry(editing)}
          warmthSites={book.plan.asks.includes('warmth') ? book.plan.warmthSites : undefined}
          complain={complain}
          onCalm={() => setComplain(false)}
          onUnclear={setUnclear}
          onAnswer={(given) => setChanged({ ...changed, [editing.key]: given })}
        />
      </Page>
    );
  }

  const save = async () => {
    const answers = Object.fromEntries(
      items.map(({ item, answer }) => [item.key, answerOf(item.key, answer)] as const).filter(([, value]) => value !== undefined),
    );
    // Judged as of the day it is about, told as of now.
    const asOf = { at: Date.parse(first.at), day: first.day };
    const stamp = { ...notebook.stamp(), amends: first.id };
    try {
      if (now.kind === 'check') {
        const parts = sortAnswers(book.plan, answers);
        const judgement = judgeCheckParts(notebook, parts, [first.id], asOf);
        const alert = await record(notebook, { ...stamp, kind: 'check', ...parts, judgement }, judgement);
        if (alert) return replace('alert', alert.id);
      } else {
        const wound = notebook.wound(now.wound);
        const check = standingOne(state.entries, 'check', now.check);
        const judgement = wound && judgeLook(notebook, wound, check, answers as Answers, [first.id], asOf);
        const { id: _id, at: _at, day: _day, zone: _zone, by: _by, device: _device, plan: _plan, amends: _amends, ...rest } = now;
        const alert = await record(
          notebook,
          { ...rest, ...stamp, answers: answers as Answers, ...(judgement ? { judgement } : {}) },
          judgement,
        );
        if (alert) return replace('alert', alert.id);
      }
      replace('log', first.id);
    } catch {
      setFailed(true);
    }
  };

  return (
    <Page
      title={t('log:correctTitle')}
      back={() => go('log', first.id)}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" disabled={Object.keys(changed).length === 0} onClick={() => void save()}>
            {t('log:saveCorrection')}
          </button>
        </>
      }
    >
      <p class="lead">{t('log:correctText')}</p>
      <ul class="rows">
        {items.map(({ item, answer }) => {
          const value = answerOf(item.key, answer);
          return (
            <li key={item.key}>
              <button
                type="button"
                class="row"
                onClick={() => {
                  setComplain(false);
                  setUnclear(false);
                  setEditing(item);
                }}
              >
                <span class="row-words">
                  <span>{[t(`check:${item.question.id}.short`), aboutText(book.plan, item)].filter(Boolean).join(' · ')}</span>
                  <span class="row-more">
                    {value === undefined ? t('log:noAnswer') : answerText(item.question.id, value, { dry: isDry(item) })}
                  </span>
                </span>
              </button>
            </li>
          );
        })}
      </ul>
    </Page>
  );
}

/** A note in the person's own words: new, or a correction of an old one. @param forVisit begins as a question for the next visit. */
export function NoteScreen({ entry, forVisit = false }: { entry?: Entry<Extract<LogRecord, { kind: 'note' }>>; forVisit?: boolean }) {
  const { notebook } = useBook();
  const where = forVisit ? 'question' : 'note';
  const [text, type, done] = useKeptText(entry ? `note-${entry.first.id}` : where, entry?.now.text);
  const [asks, setAsks] = useState(entry ? entry.now.forVisit === true : forVisit);
  const [failed, setFailed] = useState(false);
  const origin = forVisit ? 'visit' : 'log';
  const save = async () => {
    const mark = asks ? { forVisit: true } : {};
    try {
      await notebook.append([
        { ...notebook.stamp(), kind: 'note', text: text.trim(), ...mark, ...(entry ? { amends: entry.first.id } : {}) },
      ]);
      await done();
      replace(origin);
    } catch {
      setFailed(true);
    }
  };
  return (
    <Page
      title={t(forVisit ? 'log:question' : 'log:write')}
      back={() => go(origin)}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" disabled={text.trim() === ''} onClick={() => void save()}>
            {t('common:save')}
          </button>
        </>
      }
    >
      <WordsField
        label={t(forVisit ? 'log:questionField' : 'log:noteField')}
        hint={t(forVisit ? 'log:questionHint' : 'log:noteHint')}
        value={text}
        rows={6}
        onChange={type}
      />
      {!forVisit && (
        <Choices
          legend={t('log:forVisit')}
          many
          choices={[{ value: 'forVisit', label: t('log:forVisit'), hint: t('log:forVisitHint') }]}
          chosen={asks ? ['forVisit'] : []}
          onChange={(chosen) => setAsks(chosen.length > 0)}
        />
      )}
    </Page>
  );
}

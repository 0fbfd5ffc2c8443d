import './keep.css';
import { useEffect, useState } from 'preact/hooks';
import { conflicts } from '../../care/log/conflicts.ts';
import { planChanges } from '../../care/plan/compare.ts';
import { localDay } from '../../care/schedule/day.ts';
import type { BookArrival, SentBook } from '../../exchange/book-content.ts';
import { CallButton } from '../../parts/call-button.tsx';
import { LevelMark } from '../../parts/level.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { PlanChanges } from '../../parts/plan-changes.tsx';
import type { Book } from '../../store/book.ts';
import { planVerdictIn, type TookIn, takeBook } from '../../store/take-in.ts';
import { formatDay, formatTime, inARow } from '../../words/format.ts';
import { apart, t } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { dropLog, waitingLog } from '../incoming-log.ts';
import { go, replace } from '../route.ts';
import { PlanTaken, TakenLines } from './taken.tsx';
import { useWork, Working } from './work.tsx';

type Step =
  | { at: 'offered'; why?: 'stopped' | 'failed' }
  | { at: 'taking' }
  | { at: 'done'; took: TookIn & { photos: number }; toJudge: number };

/** A log from another phone: shown first, taken in only after a yes, and never into another person's book. */
export function TakeInScreen() {
  const { notebook } = useNotebook();
  const [arrival, setArrival] = useState<BookArrival | 'none' | undefined>();
  const [step, setStep] = useState<Step>({ at: 'offered' });
  const work = useWork();
  useEffect(() => {
    void waitingLog(notebook.shelf).then((waiting) => setArrival(waiting ?? 'none'));
  }, [notebook]);

  const leave = async () => {
    await dropLog(notebook.shelf);
    replace('phones');
  };
  const take = async (sent: SentBook) => {
    setStep({ at: 'taking' });
    await notebook.nameDevice();
    const done = await work.run((following) =>
      takeBook(notebook.shelf, sent, { records: sent.records, odd: sent.odd, photos: sent.photos }, following),
    );
    await notebook.refresh();
    if (!done.ok) return setStep({ at: 'offered', why: done.why });
    await dropLog(notebook.shelf);
    const { records } = await notebook.wholeLog(done.value.book);
    setStep({ at: 'done', took: done.value, toJudge: conflicts(records).length });
  };

  if (arrival === undefined) return <Page title={t('common:wait')} />;
  if (arrival === 'none' || !arrival.ok) return <NoLog why={arrival === 'none' ? 'none' : arrival.why} onLeave={() => void leave()} />;
  if (step.at === 'taking') {
    return <Working title={t('keep:takeIn.taking')} text={t('keep:workingText')} share={work.share} onStop={work.stop} />;
  }
  if (step.at === 'done') return <TookInPage took={step.took} toJudge={step.toJudge} />;
  return <Question sent={arrival.book} why={step.why} onTake={() => void take(arrival.book)} onLeave={() => void leave()} />;
}

function NoLog({ why, onLeave }: { why: string; onLeave: () => void }) {
  return (
    <Page
      title={t('keep:takeIn.noneTitle')}
      back={onLeave}
      foot={
        <button type="button" class="button button-main" onClick={onLeave}>
          {t('common:back')}
        </button>
      }
    >
      <p class="lead">{t(`keep:takeIn.fault.${why}`)}</p>
      <p>{t('keep:takeIn.nothingChanged')}</p>
    </Page>
  );
}

interface QuestionProps {
  sent: SentBook;
  why: 'stopped' | 'failed' | undefined;
  onTake: () => void;
  onLeave: () => void;
}

/** Whose log it is and what would become of it. Only a person can say that it belongs here. */
function Question({ sent, why, onTake, onLeave }: QuestionProps) {
  const { state } = useNotebook();
  const name = sent.plan.person.callMe;
  const here = state.books.find((b) => b.id === sent.plan.person.id);
  // Of somebody this phone has no book for: the careful answer is the large one.
  const isStranger = !here && state.books.length > 0;
  const title = here ? t('keep:takeIn.title', { name: here.plan.person.callMe }) : t('keep:takeIn.newTitle', { name });
  const yes = here ? t('keep:takeIn.add') : t('keep:takeIn.open', { name });
  return (
    <Page
      title={title}
      back={onLeave}
      focusKey={why ?? 'offered'}
      foot={
        <>
          <NotSaved when={why === 'failed'} />
          <button type="button" class={isStranger ? 'button button-second' : 'button button-main'} onClick={onTake}>
            {yes}
          </button>
          <button type="button" class={isStranger ? 'button button-main' : 'button button-quiet'} onClick={onLeave}>
            {t('welcome:notNow')}
          </button>
        </>
      }
    >
      {why === 'stopped' && <p role="status">{t('keep:stopped')}</p>}
      {isStranger && <p class="lead">{t('keep:takeIn.stranger', { name })}</p>}
      {!here && <p>{t('keep:takeIn.compare')}</p>}
      {here && <PlanOfBoth here={here} sent={sent} />}
      <Facts sent={sent} />
    </Page>
  );
}

function Facts({ sent }: { sent: SentBook }) {
  const { notebook } = useNotebook();
  const { plan, records, photos, odd, from, made } = sent;
  const zone = notebook.device.zone();
  const days = records.map((r) => r.day).sort();
  const [first, last] = [days[0], days.at(-1)];
  return (
    <>
      <dl class="answers">
        <div>
          <dt>{t('welcome:for')}</dt>
          <dd>
            <bdi>{plan.person.callMe}</bdi>
          </dd>
        </div>
        <div>
          <dt>{t('welcome:from')}</dt>
          <dd>
            <bdi>{plan.clinic.name}</bdi>
          </dd>
        </div>
        <div>
          <dt>{t('plan:phone')}</dt>
          <dd>
            <bdi>{plan.clinic.phone}</bdi>
          </dd>
        </div>
        <div>
          <dt>{t('keep:takeIn.made')}</dt>
          <dd>{inARow([formatDay(localDay(Date.parse(made), zone), 'short'), formatTime(made, zone)])}</dd>
        </div>
        <div>
          <dt>{t('keep:takeIn.holds')}</dt>
          <dd>
            {t('keep:entries', { count: records.length })}
            {first && last && ` ${t('keep:days', { first: formatDay(first, 'short'), last: formatDay(last, 'short') })}`}
          </dd>
        </div>
      </dl>
      {from && <p>{t('keep:takeIn.onlyFrom', { day: formatDay(from, 'short') })}</p>}
      {photos.length > 0 && <p>{t('keep:takeIn.photos', { count: photos.length })}</p>}
      {odd.length > 0 && <p class="notice">{t('keep:takeIn.odd', { count: odd.length })}</p>}
    </>
  );
}

/** What would become of the plan in force: it holds the numbers that are called. */
function PlanOfBoth({ here, sent }: { here: Book; sent: SentBook }) {
  const verdict = planVerdictIn(here, sent);
  if (verdict === 'same' || verdict === 'new') return null;
  const { revision, clinic } = verdict === 'taken' ? sent.plan : here.plan;
  return (
    <>
      <div class="notice">
        {verdict !== 'kept' && <LevelMark level="callToday" />}
        <p>{t(`keep:takeIn.plan.${verdict}`, { revision, clinic: clinic.name })}</p>
        {verdict !== 'kept' && <CallButton phone={here.plan.clinic.phone} label={apart(here.plan.clinic.name)} tone="quiet" />}
      </div>
      {verdict === 'taken' && <PlanChanges changes={planChanges(here.plan, sent.plan)} now={here.plan} next={sent.plan} />}
    </>
  );
}

function TookInPage({ took, toJudge }: { took: TookIn & { photos: number }; toJudge: number }) {
  const { notebook, state } = useNotebook();
  const book = state.books.find((b) => b.id === took.book);
  const name = book?.plan.person.callMe ?? '';
  const isOpen = state.book?.id === took.book;
  const done = async () => {
    if (!isOpen) await notebook.openBook(took.book);
    go('today');
  };
  return (
    <Page
      title={t('keep:takeIn.doneTitle', { name })}
      foot={
        <>
          {isOpen && toJudge > 0 && (
            <button type="button" class="button button-main" onClick={() => replace('judge')}>
              {t('keep:judge.look')}
            </button>
          )}
          <button type="button" class={isOpen && toJudge > 0 ? 'button button-quiet' : 'button button-main'} onClick={() => void done()}>
            {isOpen ? t('common:done') : t('today:otherOpen', { name })}
          </button>
        </>
      }
    >
      <TakenLines took={took} />
      {took.photos > 0 && <p>{t('keep:taken.photos', { count: took.photos })}</p>}
      <PlanTaken plan={took.plan} book={book} />
      {toJudge > 0 && <p class="notice">{t('keep:judge.waiting', { count: toJudge })}</p>}
    </Page>
  );
}

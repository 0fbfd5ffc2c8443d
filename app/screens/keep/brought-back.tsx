import './keep.css';
import { localDay } from '../../care/schedule/day.ts';
import type { OpenBackup } from '../../exchange/backup-file.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import type { Restored } from '../../store/restore.ts';
import { formatBytes, formatDay } from '../../words/format.ts';
import { languageFor, switchLanguage, t, words } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { go } from '../route.ts';
import { PlanTaken, TakenLines } from './taken.tsx';

interface Props {
  backup: OpenBackup;
  /** The end of the file is missing; what is there can be brought back. */
  cutOff: boolean;
  why: 'stopped' | 'failed' | undefined;
  onBring: () => void;
  onLeave: () => void;
}

/** What a copy holds, before anything of it is taken in. */
export function WhatIsInIt({ backup, cutOff, why, onBring, onLeave }: Props) {
  const { notebook, state } = useNotebook();
  const { contents } = backup;
  const made = localDay(Date.parse(backup.made), notebook.device.zone());
  return (
    <Page
      title={t('keep:back.inItTitle')}
      over={t('keep:back.made', { day: formatDay(made, 'short') })}
      back={onLeave}
      focusKey={why ?? 'offered'}
      foot={
        <>
          <NotSaved when={why === 'failed'} />
          <button type="button" class={cutOff ? 'button button-second' : 'button button-main'} onClick={onBring}>
            {t(cutOff ? 'keep:back.bringPart' : 'keep:back.bring')}
          </button>
          <button type="button" class={cutOff ? 'button button-main' : 'button button-quiet'} onClick={onLeave}>
            {t('keep:back.other')}
          </button>
        </>
      }
    >
      {why === 'stopped' && <p role="status">{t('keep:stopped')}</p>}
      {cutOff && (
        <p class="error" role="alert">
          {t('keep:back.fault.cutOff')}
        </p>
      )}
      {contents.books.map((b) => {
        const here = state.books.find((own) => own.id === b.book);
        return (
          <section key={b.book} class="book-facts">
            <h2>{b.callMe === undefined ? t('keep:back.unreadableBook') : <bdi>{b.callMe}</bdi>}</h2>
            {b.clinic && (
              <p>
                <bdi>{b.clinic}</bdi>
              </p>
            )}
            <p>
              {t('keep:entries', { count: b.records })}
              {b.first && b.last && ` ${t('keep:days', { first: formatDay(b.first, 'short'), last: formatDay(b.last, 'short') })}`}
            </p>
            <p class="hint">{t(here ? 'keep:back.hereToo' : 'keep:back.newHere')}</p>
          </section>
        );
      })}
      <p>
        {contents.photos > 0
          ? t('keep:back.photos', { count: contents.photos, size: formatBytes(contents.photoBytes) })
          : t('keep:back.noPhotos')}
      </p>
      <p>{t('keep:back.union')}</p>
    </Page>
  );
}

/** What came of it, book by book. */
export function BroughtBack({ result, cutOff }: { result: Restored; cutOff: boolean }) {
  const { state } = useNotebook();
  const of = (id: string) => state.books.find((b) => b.id === id);
  const done = async () => {
    // The page itself would start anew in the other language, so this comes last.
    const language = languageFor([state.settings.language]);
    if (result.settings && state.settings.language && language !== words.language) await switchLanguage(language);
    go(state.book ? 'today' : 'welcome');
  };
  return (
    <Page
      title={t('keep:back.doneTitle')}
      foot={
        <button type="button" class="button button-main" onClick={() => void done()}>
          {t('common:done')}
        </button>
      }
    >
      {cutOff && <p class="notice">{t('keep:back.partOnly')}</p>}
      {result.books.map((took) => (
        <section key={took.book} class="book-facts">
          <h2>{of(took.book)?.plan.person.callMe ?? t('keep:back.unreadableBook')}</h2>
          <TakenLines took={took} />
          <PlanTaken plan={took.plan} book={of(took.book)} />
        </section>
      ))}
      {result.photos > 0 && <p>{t('keep:taken.photos', { count: result.photos })}</p>}
      <p class="hint">{t('keep:back.whoHint')}</p>
      <nav class="contents" aria-label={t('keep:pages')}>
        <a href="#/settings">{t('keep:back.whoLink')}</a>
        {state.books.length > 1 && <a href="#/people">{t('keep:back.people')}</a>}
        {state.book && <a href="#/judge">{t('keep:judge.title')}</a>}
      </nav>
    </Page>
  );
}

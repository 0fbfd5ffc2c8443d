import { useState } from 'preact/hooks';
import type { Entry } from '../../care/log/timeline.ts';
import { Drawing } from '../../parts/drawing.tsx';
import { LevelWord } from '../../parts/level.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { formatDay, formatMonth, formatTime } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import { unitsOf } from '../units.ts';
import { entrySubtitle, entryTitle } from './entry-words.ts';

/** The log: every check, change, alert and outcome, newest day first. */
export function LogScreen() {
  const { notebook, state, book } = useBook();
  const [loading, setLoading] = useState(false);
  // What a change used by its recipe stands with the supplies; here it would hide the rest.
  const days = byDay(state.entries.filter((e) => !(e.now.kind === 'stock' && e.now.change !== undefined)));
  const earlier = state.otherMonths.at(-1);
  return (
    <Page
      title={t('log:title', { name: book.plan.person.callMe })}
      back={() => go('today')}
      foot={
        <>
          <a class="button button-second" href="#/note">
            {t('log:write')}
          </a>
          <a class="button button-quiet" href="#/hand-over">
            {t('log:handOver')}
          </a>
        </>
      }
    >
      <nav class="contents" aria-label={t('log:more')}>
        <a href="#/visit">{t('log:visit')}</a>
      </nav>
      {days.length === 0 && (
        <>
          <Drawing name="logEmpty" />
          <p class="lead">{t('log:empty')}</p>
        </>
      )}
      {days.length > 0 && (
        <div class="contents">
          <a href="#/course">{t('log:course')}</a>
        </div>
      )}
      {state.setAside.length > 0 && (
        <a class="notice notice-link" href="#/set-aside">
          {t('log:setAside', { count: state.setAside.length })}
        </a>
      )}
      {days.map(([day, entries]) => (
        <section class="log-day" key={day}>
          <h2>{formatDay(day)}</h2>
          <ul class="rows" aria-label={formatDay(day)}>
            {entries.map((e) => (
              <LogRow key={e.first.id} entry={e} />
            ))}
          </ul>
        </section>
      ))}
      {earlier && (
        <button
          type="button"
          class="button button-second"
          {...press(() => {
            setLoading(true);
            void notebook.loadEarlier().finally(() => setLoading(false));
          }, loading)}
        >
          {t('log:earlier', { month: formatMonth(earlier) })}
        </button>
      )}
    </Page>
  );
}

function LogRow({ entry }: { entry: Entry }) {
  const { state, book } = useBook();
  const { now, first, voided } = entry;
  const subtitle = entrySubtitle(now, book.plan, unitsOf(state).length);
  const level = 'judgement' in now && now.judgement ? now.judgement.told : now.kind === 'alert' ? now.told : undefined;
  return (
    <li>
      <a class={`row ${voided ? 'row-void' : ''}`} href={`#/log/${encodeURIComponent(first.id)}`}>
        <span class="row-time">{formatTime(first.at, first.zone)}</span>
        <span class="row-words">
          <span>{entryTitle(now)}</span>
          {subtitle && <span class="row-more">{subtitle}</span>}
          {level && level !== 'carryOn' && <LevelWord level={level} />}
          {voided && <span class="row-more">{t('log:voided')}</span>}
          {entry.versions.length > 1 && <span class="row-more">{t('log:corrected')}</span>}
        </span>
      </a>
    </li>
  );
}

function byDay(entries: readonly Entry[]): [Entry['first']['day'], Entry[]][] {
  const days = new Map<Entry['first']['day'], Entry[]>();
  for (const e of [...entries].reverse()) days.set(e.first.day, [...(days.get(e.first.day) ?? []), e]);
  return [...days].sort(([a], [b]) => (a < b ? 1 : -1));
}

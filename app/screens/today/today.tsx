import { isWholeCheck } from '../../care/check/items.ts';
import { isStale } from '../../care/check/stale.ts';
import { lastDone } from '../../care/log/history.ts';
import type { AlertRecord } from '../../care/log/records.ts';
import { standing } from '../../care/log/timeline.ts';
import type { Wound } from '../../care/plan/plan.ts';
import { daysBetween, type LocalDay, localDay } from '../../care/schedule/day.ts';
import { Later } from '../../parts/later.tsx';
import { LevelMark } from '../../parts/level.tsx';
import { Page } from '../../parts/page.tsx';
import { useWords } from '../../parts/use-words.ts';
import type { Notebook } from '../../store/notebook.ts';
import { formatDay, formatNearDay } from '../../words/format.ts';
import { loadAreas, t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook, useNow } from '../context.ts';
import { dueOf, woundsDue } from '../due.ts';
import { go } from '../route.ts';
import { toldNow } from '../told.ts';

/** The first screen: what to do now, in one sentence, with one main button. */
export function TodayScreen() {
  const { notebook, state, book } = useBook();
  const now = useNow(notebook);
  const { plan } = book;
  const today = notebook.today();
  const checks = standing(state.entries, 'check').filter((e) => e.first.day === today);
  // A check that a grave answer cut short is not the day's check.
  const checkedToday = checks.some((e) => isWholeCheck(plan, e.now));
  const cutShort = checks.length > 0 && !checkedToday;
  const dueNow = woundsDue(notebook);
  const alerts = notebook.openAlerts();
  const draft = state.checkDraft;
  // One left on an earlier day is not today's.
  const isChecking = draft !== undefined && !isStale(draft.startedAt, now, today, notebook.device.zone());
  const next = whatNext(alerts.length > 0, Boolean(state.changeDraft), isChecking, checkedToday, dueNow.length > 0);
  const nextWound = dueNow[0]?.id ?? '';

  const main = {
    call: { label: t('today:whomToCall'), act: () => go('alert', alerts[0]?.id ?? '') },
    goOnChange: { label: t('today:goOnChange'), act: () => go('change', state.changeDraft?.wound ?? '') },
    goOnCheck: { label: t('today:goOnCheck'), act: () => go('check') },
    check: { label: t(cutShort ? 'today:redoCheck' : 'today:startCheck'), act: () => go('check') },
    change: { label: t('today:startChange'), act: () => go('change', nextWound) },
    rest: { label: t('today:seeLog'), act: () => go('log') },
  }[next];

  return (
    <Page
      title={t('today:title', { name: plan.person.callMe })}
      over={formatDay(today)}
      class="today"
      foot={
        <Later load={alerts[0]?.told === 'emergency' ? emergencyCall : undefined}>
          <button type="button" class="button button-main" onClick={main.act}>
            {main.label}
          </button>
        </Later>
      }
    >
      {state.books.length > 1 && <Later load={async () => (await import('./other-books.tsx')).OtherBooks} />}
      {alerts.length > 0 && <OpenAlert alert={alerts[0] as AlertRecord} more={alerts.length - 1} />}
      <Later load={async () => (await import('./clinic-said.tsx')).ClinicSaid} />
      <Later load={async () => (await import('./standing.tsx')).Standing} />
      {/* An alert says itself what to do now. */}
      {next !== 'call' && <p class="now">{t(next === 'check' && cutShort ? 'today:now.cutShort' : `today:now.${next}`)}</p>}
      <ul class="dues">
        {plan.wounds.map((wound) => (
          <li key={wound.id}>
            <span class="due-name">{woundName(wound)}</span>
            <span class="due-when">
              {next === 'call' && state.changeDraft?.wound === wound.id ? t('today:now.goOnChange') : dueText(notebook, wound, today)}
            </span>
          </li>
        ))}
      </ul>
      <Later load={async () => (await import('./supplies-notice.tsx')).SuppliesNotice} pauseMs={300} />
      <Later load={async () => (await import('./keep-notice.tsx')).KeepNotice} pauseMs={600} />
      {/* What goes together stands together, so that the eye has five places to look at and not eleven. */}
      <nav class="contents" aria-label={t('today:contents')}>
        <div>
          {next !== 'check' && next !== 'goOnCheck' && (
            <a href="#/check">{t(isChecking ? 'today:goOnCheck' : checkedToday ? 'today:checkAgain' : 'today:startCheck')}</a>
          )}
          {next !== 'change' && next !== 'goOnChange' && (
            <a href="#/change">{t(state.changeDraft ? 'today:goOnChange' : dueNow.length > 0 ? 'today:startChange' : 'today:changeNow')}</a>
          )}
          <a href="#/plan">{t('today:seePlan')}</a>
        </div>
        <div>
          <a href="#/supplies">{t('today:supplies')}</a>
          <a href="#/calendar">{t('today:calendar')}</a>
        </div>
        <div>
          <a href="#/measure">{t('today:measure')}</a>
          <a href="#/photos">{t('today:photos')}</a>
          <a href="#/course">{t('today:course')}</a>
        </div>
        <div>
          <a href="#/visit">{t('today:visit')}</a>
          {next !== 'rest' && <a href="#/log">{t('today:seeLog')}</a>}
        </div>
        <div>
          <a href="#/settings">{t('today:settings')}</a>
          {state.books.length > 1 && <a href="#/people">{t('today:people')}</a>}
        </div>
      </nav>
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}

const emergencyCall = async () => {
  const [{ EmergencyCall }] = await Promise.all([import('./emergency-call.tsx'), loadAreas(['alert'])]);
  return EmergencyCall;
};

type Next = 'call' | 'goOnChange' | 'goOnCheck' | 'check' | 'change' | 'rest';

function whatNext(alerted: boolean, changing: boolean, checking: boolean, checkedToday: boolean, due: boolean): Next {
  if (alerted) return 'call';
  if (changing) return 'goOnChange';
  if (checking) return 'goOnCheck';
  if (!checkedToday) return 'check';
  return due ? 'change' : 'rest';
}

function dueText(notebook: Notebook, wound: Wound, today: LocalDay): string {
  const { entries, book } = notebook.state;
  const due = dueOf(notebook, wound)?.day;
  // A wound never dressed since the book began is due from then on.
  const late = daysBetween(due ?? localDay(Date.parse(book?.acceptedAt ?? ''), notebook.device.zone()), today);
  if (late > 0) return t('today:dueLate', { count: late });
  if (!due) return t('today:dueFirst');
  if (lastDone(entries, wound.id, notebook.device.now())?.now.path === 'coverAndCall') return t('today:askWhen');
  return t('today:due', { day: formatNearDay(due, today) });
}

/** The gravest alert that waits for its outcome, above everything else. */
function OpenAlert({ alert, more }: { alert: AlertRecord; more: number }) {
  const { notebook } = useBook();
  if (!useWords(['alert'])) return null;
  return (
    <a class={`open-alert open-alert-${alert.told}`} href={`#/alert/${alert.id}`}>
      <LevelMark level={alert.told} />
      <span>
        <strong>{toldNow(notebook, alert).title}</strong>
        <span>{t('today:alertOpen')}</span>
        {more > 0 && <span>{t('today:alertsMore', { count: more })}</span>}
      </span>
    </a>
  );
}

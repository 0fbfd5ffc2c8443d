import { useRef, useState } from 'preact/hooks';
import { comingChanges } from '../../care/schedule/coming-changes.ts';
import { calendarFile } from '../../exchange/calendar-file.ts';
import { Choices } from '../../parts/choice.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import type { Settings } from '../../store/book.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import { save as saveFile } from '../save-file.ts';

/** How far ahead the calendar file goes: to be made anew after each visit. */
const DAYS_AHEAD = 28;

/** Reminders: a file for the phone's own calendar, and notices while the app is open. */
export function RemindersScreen() {
  const { notebook, state, book } = useBook();
  const { settings } = state;
  const [saved, setSaved] = useState(false);
  const [refused, setRefused] = useState(false);
  const [failed, setFailed] = useState(false);
  const hasNotices = 'Notification' in window && 'serviceWorker' in navigator;

  // A time just typed may still be on its way to the store when the file is asked for.
  const saving = useRef<Promise<unknown>>(Promise.resolve());
  const set = (part: Partial<Settings>) => {
    saving.current = notebook.saveSettings(part).catch(() => setFailed(true));
  };

  const download = async () => {
    await saving.current;
    const { settings } = notebook.state;
    const now = notebook.device.now();
    const { sittings, visits } = comingChanges(book.plan, state.entries, now, notebook.device.zone(), { days: DAYS_AHEAD });
    const last = settings.calendarFiles[book.id];
    const revision = (last?.revision ?? -1) + 1;
    const text = calendarFile({
      plan: book.plan,
      sittings,
      visits,
      changeTime: settings.remindAt,
      quietHours: { from: settings.quietFrom, to: settings.quietTo },
      words: { calendar: t('common:app'), change: t('calendar:notice'), visit: t('calendar:visitNotice') },
      now,
      revision,
      ...(last ? { before: { sittings: last.sittings, visits: last.visits } } : {}),
    });
    if (text === undefined) return;
    try {
      await notebook.saveSettings({
        calendarFiles: { ...settings.calendarFiles, [book.id]: { revision, sittings: sittings.length, visits: visits.length } },
      });
      saveFile('tendbook.ics', 'text/calendar', text);
      setSaved(true);
    } catch {
      setFailed(true);
    }
  };

  const turn = async (on: boolean) => {
    setRefused(false);
    // The platform is asked only now, because the person wants it.
    if (on && hasNotices && Notification.permission === 'default') setRefused((await Notification.requestPermission()) !== 'granted');
    await notebook.saveSettings({ remind: on }).catch(() => setFailed(true));
  };

  return (
    <Page
      title={t('calendar:reminders')}
      back={() => go('calendar')}
      foot={
        <>
          <NotSaved when={failed} />
          {saved && <p role="status">{t('calendar:fileSaved')}</p>}
          <button type="button" class="button button-main" onClick={() => void download()}>
            {t('calendar:file')}
          </button>
        </>
      }
    >
      <p class="lead">{t('calendar:fileText')}</p>
      <p>{t('calendar:fileAgain')}</p>
      <TimeField id="remind-at" label={t('calendar:remindAt')} value={settings.remindAt} onChange={(remindAt) => set({ remindAt })} />
      <TimeField id="quiet-from" label={t('calendar:quietFrom')} value={settings.quietFrom} onChange={(quietFrom) => set({ quietFrom })} />
      <TimeField id="quiet-to" label={t('calendar:quietTo')} value={settings.quietTo} onChange={(quietTo) => set({ quietTo })} />
      <h2>{t('calendar:open')}</h2>
      <p>{t('calendar:openText')}</p>
      <Choices
        legend={t('calendar:open')}
        choices={['quiet', 'notices'].map((value) => ({ value, label: t(`calendar:remind.${value}`) }))}
        chosen={[settings.remind ? 'notices' : 'quiet']}
        onChange={([value]) => void turn(value === 'notices')}
      />
      {refused && <p role="status">{t('calendar:refused')}</p>}
      <h2>{t('calendar:cannot')}</h2>
      <ul class="facts">
        <li>{t('calendar:cannotClosed')}</li>
        <li>{t('calendar:cannotApple')}</li>
        <li>{t('calendar:cannotBadge')}</li>
        {!hasNotices && <li>{t('calendar:cannotHere')}</li>}
      </ul>
    </Page>
  );
}

function TimeField({ id, label, value, onChange }: { id: string; label: string; value: string; onChange: (value: string) => void }) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input id={id} type="time" value={value} onChange={(e) => e.currentTarget.value && onChange(e.currentTarget.value)} />
    </div>
  );
}

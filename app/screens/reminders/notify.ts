import { minutesOf, wallClock } from '../../care/schedule/day.ts';
import type { Notebook } from '../../store/notebook.ts';
import { loadAreas, t } from '../../words/i18n.ts';
import { woundsDue } from '../due.ts';

const LOOK_EVERY_MS = 60_000;

/** Whether a time of day lies in the quiet hours, which may go over midnight. */
export function isQuiet(now: number, from: number, to: number): boolean {
  return from <= to ? now >= from && now < to : now >= from || now < to;
}

interface WithBadge {
  setAppBadge?: (count: number) => Promise<void>;
  clearAppBadge?: () => Promise<void>;
}

/**
 * While the app is open or in the background: a number on its icon and, once a
 * day, a notification, where the platform has them and the person turned them
 * on. The words say nothing about health, for others may see the screen.
 */
export function remindWhileOpen(notebook: Notebook): void {
  let toldOn: string | undefined;
  const look = async () => {
    const { settings, book } = notebook.state;
    const badge = navigator as WithBadge;
    const due = settings.remind && book ? woundsDue(notebook).length : 0;
    // Refused where the app is not installed: then there is no icon to put a number on.
    await (due > 0 ? badge.setAppBadge?.(due) : badge.clearAppBadge?.())?.catch(() => undefined);
    if (due === 0 || !('Notification' in window) || Notification.permission !== 'granted') return;
    const { day: today, minutes: now } = wallClock(notebook.device.now(), notebook.device.zone());
    if (toldOn === today || now < minutesOf(settings.remindAt) || isQuiet(now, minutesOf(settings.quietFrom), minutesOf(settings.quietTo)))
      return;
    toldOn = today;
    await loadAreas(['calendar']);
    const worker = await navigator.serviceWorker?.getRegistration();
    await worker?.showNotification(t('common:app'), { body: t('calendar:notice'), tag: 'due', icon: './icons/icon-192.png' });
  };
  const quietly = () => void look().catch(() => undefined);
  quietly();
  notebook.subscribe(quietly);
  document.addEventListener('visibilitychange', quietly);
  setInterval(quietly, LOOK_EVERY_MS);
}

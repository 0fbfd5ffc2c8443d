import { AHEAD_MS, localDay } from '../care/schedule/day.ts';
import type { SentBook } from '../exchange/book-content.ts';
import { formatDay, formatTime } from '../words/format.ts';
import { t } from '../words/i18n.ts';

/** Letters of a device's id that tell two phones apart for a reader. */
const SIGN_LETTERS = 8;

interface Props {
  book: SentBook;
  /** The person's zone. */
  zone: string;
  /** The desk's clock, ms. */
  now: number;
}

/** Whose log it is, from which phone and time, and what that does not prove. */
export function LogBanner({ book, zone, now }: Props) {
  const { plan, made, device, from, odd } = book;
  const at = Date.parse(made);
  const day = formatDay(localDay(at, zone), 'short');
  const notes = [
    plan.sample && t('clinic:log.sample'),
    from && t('clinic:log.from', { day: formatDay(from, 'short') }),
    at > now + AHEAD_MS && t('clinic:log.ahead'),
    odd.length > 0 && t('clinic:log.odd', { count: odd.length }),
  ].filter((note): note is string => typeof note === 'string');
  return (
    <header class="log-banner">
      <h1>{t('clinic:log.title', { name: plan.person.callMe })}</h1>
      <p>{t('clinic:log.made', { day, time: formatTime(at, zone), device: device.slice(0, SIGN_LETTERS) })}</p>
      <p>{t('clinic:log.under', { revision: plan.revision, clinic: plan.clinic.name })}</p>
      <p class="log-proof">{t('clinic:log.proof')}</p>
      {notes.map((note) => (
        <p key={note} class="log-note">
          {note}
        </p>
      ))}
    </header>
  );
}

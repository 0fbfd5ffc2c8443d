import type { VNode } from 'preact';
import { FALLBACK_NUMBERS } from '../care/plan/emergency-numbers.ts';
import { isFull, NoStorageError } from '../store/open-store.ts';
import { NewerShelfError } from '../store/shelf.ts';
import { hasWords, loadAreas, t } from '../words/i18n.ts';

/** Why the app cannot go on: a newer app wrote the stores, the phone is full, a part of the app did not come, or something else. */
export type Why = 'newer' | 'full' | 'part' | 'other';

const ENGLISH: Record<Why, string> = {
  newer: 'A newer version of Tendbook wrote your book. Close every Tendbook window, then open it again.',
  full: 'Your phone is full, so Tendbook cannot open your book. Delete some videos or apps you do not need, then try again.',
  part: 'A part of Tendbook could not be loaded. Check your internet connection, then try again.',
  other: 'Tendbook has erased nothing. Close the app, then open it again. If that does not help, restart your phone.',
};

/** A word that must be there even before any words are loaded. */
export const orEnglish = (key: string, english: string): string => (hasWords(key) ? t(key) : english);

/** Numbers to call when the app does not know where the phone is. */
export function HelpNumbers() {
  return (
    <>
      <p>{orEnglish('common:fatal.help', 'If you are very unwell, call your local emergency number now.')}</p>
      <div class="stack">
        {FALLBACK_NUMBERS.map((n) => (
          <a key={n} class="button button-grave" href={`tel:${n}`}>
            {n}
          </a>
        ))}
      </div>
    </>
  );
}

/**
 * When the app cannot go on: what happened, what to do, and a number to call.
 * It has to work without words loaded, so it carries English of its own.
 */
export function FatalScreen({ why }: { why: Why }) {
  return (
    <div class="page">
      <main class="main">
        <h1>{orEnglish('common:fatal.title', 'Tendbook could not open')}</h1>
        <p class="lead" role="alert">
          {orEnglish(`common:fatal.why.${why}`, ENGLISH[why])}
        </p>
        <button type="button" class="button button-main" onClick={() => location.reload()}>
          {orEnglish('common:fatal.again', 'Try again')}
        </button>
        <HelpNumbers />
      </main>
    </div>
  );
}

/** What to show when the app could not even start. */
export async function whyNotStarted(error: unknown): Promise<VNode> {
  await loadAreas(['common']).catch(() => undefined);
  if (error instanceof NoStorageError) {
    const screen = await import('./no-storage.tsx').then((m) => m.noStorageScreen()).catch(() => undefined);
    if (screen) return screen;
  }
  return <FatalScreen why={error instanceof NewerShelfError ? 'newer' : isFull(error) ? 'full' : 'other'} />;
}

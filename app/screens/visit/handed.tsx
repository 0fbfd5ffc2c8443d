import { useEffect, useState } from 'preact/hooks';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { VisitSheet } from '../../parts/visit/sheet.tsx';
import type { Settings } from '../../store/book.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { replace } from '../route.ts';
import { unitsOf } from '../units.ts';
import { HoldButton } from './hold-button.tsx';
import { usePhotos } from './use-photos.ts';
import { useSecond, useSummary } from './use-summary.ts';

/**
 * The visit page alone, while the phone is in other hands. No way leads from it
 * but help and the button that must be held. It is kept with the settings, so
 * loading the app anew or going back in the browser shows it again.
 */
export function HandedScreen({ handed }: { handed: NonNullable<Settings['handed']> }) {
  const { notebook, state, book } = useBook();
  const [failed, setFailed] = useState(false);
  const isHere = book.id === handed.book;
  const summary = useSummary(handed.from, handed.to);
  const photos = usePhotos(summary);
  const second = useSecond(handed.second);
  useEffect(() => {
    // Another person's book may be the one opened last; theirs must not show.
    if (!isHere && state.books.some((b) => b.id === handed.book)) void notebook.openBook(handed.book);
  }, [isHere]);
  const end = () => {
    // Meanwhile the address may have become any other: its owner comes back to this page, not to whatever was tried.
    replace('visit');
    void notebook.saveSettings({ handed: undefined }).catch(() => setFailed(true));
  };
  return (
    <Page
      title={t('visit:title')}
      class="visit-page visit-handed"
      foot={
        <>
          <NotSaved when={failed} />
          <HoldButton onHeld={end} />
        </>
      }
    >
      {isHere && summary && <VisitSheet summary={summary} units={unitsOf(state)} second={second} photos={photos} />}
    </Page>
  );
}

import { keepFocus } from '../parts/keep-focus.ts';
import { emptyPreviewShelf } from '../store/preview-shelf.ts';
import { languageFor, loadAreas, words } from '../words/i18n.ts';
import { DESK_AREAS, Desk } from './desk.tsx';
import { PaperApp } from './paper.tsx';

/** The desk, or the take-home page that it opened, with the words it needs. */
export async function startDesk(): Promise<preact.JSX.Element> {
  if (new URLSearchParams(location.search).has('paper')) return <PaperApp />;
  await words.changeLanguage(languageFor([...(navigator.languages ?? [])]));
  await loadAreas(DESK_AREAS);
  keepFocus();
  // Whatever a preview left behind when its page was killed.
  await emptyPreviewShelf().catch(() => undefined);
  return <Desk />;
}

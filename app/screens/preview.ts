import { readPlan } from '../care/plan/plan.ts';
import { acceptPlan } from '../store/accept-plan.ts';
import type { Notebook } from '../store/notebook.ts';
import { emptyPreviewShelf } from '../store/preview-shelf.ts';
import type { Shelf } from '../store/shelf.ts';
import { languageFor, switchLanguage, words } from '../words/i18n.ts';

/** Stores of the preview's own, empty now and again when the page goes. */
export async function emptyShelf(): Promise<Shelf> {
  window.addEventListener('pagehide', () => void emptyPreviewShelf());
  return emptyPreviewShelf();
}

/** Takes in each plan that the desk around this frame sends, in the person's language, and shows it without asking. */
export function listenForPlans(notebook: Notebook): void {
  const desk = window.parent;
  let turn: Promise<unknown> = Promise.resolve();
  window.addEventListener('message', (event) => {
    if (event.source !== desk || event.origin !== location.origin) return;
    const data = event.data as { tendbook?: unknown; plan?: unknown } | null;
    if (data?.tendbook !== 'previewPlan') return;
    const reading = readPlan(data.plan);
    if (!reading.ok) return;
    const language = languageFor([reading.plan.person.language]);
    // One after the other, so that the last one sent is the one that stays.
    turn = turn.then(async () => {
      if (language !== words.language) await switchLanguage(language);
      if (notebook.state.settings.language !== language) await notebook.saveSettings({ language });
      await acceptPlan(notebook, reading.plan);
    });
  });
  desk.postMessage({ tendbook: 'previewReady' }, location.origin);
}

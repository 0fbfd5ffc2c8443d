import { realDevice } from '../store/device.ts';
import { Notebook, SILENT, tabBell } from '../store/notebook.ts';
import { openShelf, type Shelf, storedLock } from '../store/shelf.ts';
import { languageFor, loadAreas, words } from '../words/i18n.ts';
import { dressPage } from './dress.ts';

/** Words of the first screen. */
const FIRST_AREAS = ['common', 'today'] as const;

/** So long a person waits for a book before the page says why it may be. */
const SLOW_MS = 8000;

/** Waits for the stores: another tab may hold them, and then nothing ever answers. */
async function patiently<T>(work: Promise<T>): Promise<T> {
  const root = document.getElementById('app');
  const slow = setTimeout(() => root && void import('./slow.ts').then(({ sayItIsSlow }) => sayItIsSlow(root)), SLOW_MS);
  return work.finally(() => {
    clearTimeout(slow);
    document.getElementById('slow')?.remove();
  });
}

/** A preview on the clinic's desk: this app in a frame, on stores of its own. */
const isPreview = (): boolean => location.search === '?preview' && window.parent !== window;

/** From the first press on, and not earlier: it must not hold up the first screen. */
function keepFocusOnceUsed(): void {
  const keep = ({ target }: Event) => void import('../parts/keep-focus.ts').then(({ keepFocus }) => keepFocus(target));
  for (const kind of ['pointerdown', 'keydown']) window.addEventListener(kind, keep, { once: true });
}

/**
 * Opens what the device keeps and the words for it, and takes in a plan that came with the address.
 * @param passGate asks for the passcode, on a phone that has one.
 */
export async function startApp(passGate: (shelf: Shelf) => Promise<void>): Promise<Notebook> {
  keepFocusOnceUsed();
  const wishes = [...(navigator.languages ?? [])];
  await words.changeLanguage(languageFor(wishes));
  const areas = loadAreas(FIRST_AREAS);
  const preview = isPreview() ? await import('./preview.ts') : undefined;
  // Other tabs of the patient's app are not told of a preview.
  const [shelf, bell] = preview ? [await preview.emptyShelf(), SILENT] : [openShelf(), tabBell()];
  if ((await patiently(storedLock(shelf))) !== undefined) await passGate(shelf);
  const notebook = await patiently(Notebook.open(shelf, realDevice, bell));
  const { settings, book } = notebook.state;
  // What a phone without a plan shows is fetched beside the words, not after them.
  if (!book) void fetchWelcome().catch(() => undefined);
  if (settings.language && languageFor([settings.language]) !== words.language) {
    await words.changeLanguage(languageFor([settings.language]));
    await loadAreas(FIRST_AREAS);
  }
  await patiently(areas);
  const dress = () => dressPage(notebook.state.settings);
  dress();
  notebook.subscribe(dress);
  words.on('languageChanged', dress);
  preview?.listenForPlans(notebook);
  await takeFromAddress(notebook);
  window.addEventListener('hashchange', () => void takeFromAddress(notebook));
  return notebook;
}

/** Where it fails, the router will find so and say it. */
async function fetchWelcome(): Promise<void> {
  const { welcome } = (await import('./places.tsx')).PLACES;
  if (welcome) await Promise.all([welcome.load(), loadAreas(welcome.areas)]);
}

/** A plan or a code of a log in the address is kept for confirmation, and leaves the address and the history at once. */
async function takeFromAddress(notebook: Notebook): Promise<void> {
  const { hash } = location;
  const isLog = hash.startsWith('#log=');
  if (!isLog && !hash.startsWith('#plan=')) return;
  history.replaceState(null, '', isLog ? '#/scan/log' : '#/confirm');
  if (!isLog) await notebook.keepIncoming(hash);
  else if ((await (await import('./incoming-log.ts')).takeLogPart(notebook.shelf, hash)).event === 'complete')
    history.replaceState(null, '', '#/take-in');
  window.dispatchEvent(new HashChangeEvent('hashchange'));
}

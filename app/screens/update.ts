import { Workbox } from 'workbox-window';
import type { Notebook } from '../store/notebook.ts';
import { loadAreas, t } from '../words/i18n.ts';

/** How often a running app looks for a new version. */
const LOOK_EVERY_MS = 6 * 3_600_000;

/** The worker's address never changes: phones look for it there for ever. */
const WORKER = './sw.js';

type Address = ConstructorParameters<typeof Workbox>[0];
interface TypesFactory {
  createPolicy(name: string, rules: { createScriptURL: (url: string) => string }): { createScriptURL(url: string): Address };
}

/** The worker's address in the form that pages with Trusted Types take; no other address gets it. */
function workerAddress(): Address {
  const { trustedTypes } = globalThis as { trustedTypes?: TypesFactory };
  const only = (url: string): string => {
    if (url !== WORKER) throw new TypeError('no script but the worker');
    return url;
  };
  return trustedTypes ? trustedTypes.createPolicy('tendbook-worker', { createScriptURL: only }).createScriptURL(WORKER) : WORKER;
}

/**
 * Registers the service worker and takes in new versions. A new version waits
 * until no check or change is under way, and then asks.
 */
export function keepUpToDate(notebook: Notebook): void {
  // The desk's preview, in a frame, leaves the browser as it found it.
  if (!('serviceWorker' in navigator) || import.meta.env.DEV || window.parent !== window) return;
  const worker = new Workbox(workerAddress());
  let waiting = false;
  const answered = () => {
    // Asked once; the next start of the app asks again.
    waiting = false;
  };
  const offer = () => {
    const busy = notebook.state.checkDraft !== undefined || notebook.state.changeDraft !== undefined;
    if (waiting && !busy) void showOffer(worker, answered);
  };
  worker.addEventListener('waiting', () => {
    waiting = true;
    offer();
  });
  notebook.subscribe(offer);
  worker.addEventListener('controlling', (event) => {
    // Reload only when a new version took over from an old one.
    if (event.isUpdate) location.reload();
  });
  // Without a service worker the app works as long as there is a network.
  worker.register().catch(() => undefined);
  setInterval(() => void worker.update().catch(() => undefined), LOOK_EVERY_MS);
}

async function showOffer(worker: Workbox, answered: () => void): Promise<void> {
  if (document.getElementById('update')) return;
  await loadAreas(['common']);
  const bar = document.createElement('div');
  bar.id = 'update';
  bar.className = 'update';
  bar.setAttribute('role', 'status');
  const text = document.createElement('p');
  text.textContent = t('common:update.ready');
  const now = document.createElement('button');
  now.type = 'button';
  now.className = 'button button-main';
  now.textContent = t('common:update.now');
  now.onclick = () => worker.messageSkipWaiting();
  const later = document.createElement('button');
  later.type = 'button';
  later.className = 'button button-quiet';
  later.textContent = t('common:update.later');
  later.onclick = () => {
    answered();
    bar.remove();
  };
  bar.append(text, now, later);
  document.body.append(bar);
}

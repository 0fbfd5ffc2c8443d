import './style/base.css';
import { render } from 'preact';
import { App } from './screens/app.tsx';
import { whyNotStarted } from './screens/fatal.tsx';
import { startApp } from './screens/start.ts';
import { isFull, NoStorageError } from './store/open-store.ts';
import { LockedError } from './store/shelf.ts';

/** How long the first screen has the network and the processor to itself. */
const SETTLE_MS = 2000;

const root = document.getElementById('app');

/** Puts on the style of the house, which is fetched without holding up the first words. Without it the app goes on. */
const dressed = new Promise<unknown>((resolve) => {
  const sheet = document.querySelector<HTMLLinkElement>('link[as=style]');
  if (!sheet) return resolve(0);
  sheet.onerror = resolve;
  // The fetching ahead tells of its end too, when there is no sheet yet.
  sheet.onload = () => sheet.sheet && resolve(0);
  sheet.rel = 'stylesheet';
});

// A passcode was set or taken away in another tab: this one must not go on with what it has.
window.addEventListener('unhandledrejection', (event) => {
  if (!(event.reason instanceof LockedError)) return;
  event.preventDefault();
  location.reload();
});
// What a store refused and no screen has told of: it must not pass in silence.
window.addEventListener('unhandledrejection', (event) => {
  if (!isFull(event.reason) && !(event.reason instanceof NoStorageError)) return;
  event.preventDefault();
  void import('./screens/unsaved.ts').then(({ sayNotSaved }) => sayNotSaved());
});

if (root) {
  startApp(async (shelf) => (await import('./screens/lock/gate.tsx')).passGate(shelf, root, dressed)).then(
    async (notebook) => {
      await dressed;
      // Beside the first words, which stay until there is a screen to put in their place.
      const place = root.appendChild(document.createElement('div'));
      render(<App notebook={notebook} />, place);
      // Later, so that it does not compete with the first screen.
      setTimeout(() => {
        if (notebook.shelf.seal)
          void import('./screens/lock/auto-lock.ts').then(({ lockWhenIdle }) =>
            lockWhenIdle(notebook.shelf, notebook.device.now, () => location.reload()),
          );
        void import('./screens/update.ts').then(({ keepUpToDate }) => keepUpToDate(notebook));
        void import('./screens/reminders/notify.ts').then(({ remindWhileOpen }) => remindWhileOpen(notebook));
      }, SETTLE_MS);
    },
    async (error: unknown) => {
      const screen = await whyNotStarted(error);
      root.replaceChildren();
      render(screen, root);
    },
  );
}

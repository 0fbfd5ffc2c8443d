import { readLock } from '../../store/lock.ts';
import { type Shelf, storedLock } from '../../store/shelf.ts';

const LOOK_EVERY_MS = 5_000;
const MINUTE_MS = 60_000;

/**
 * Locks the app once nobody has used it for as long as the person chose: the
 * page starts anew, which lets go of the key and of everything on screen.
 * Answers and steps were saved when they were given.
 * @param restart for tests; else the page is loaded again.
 */
export function lockWhenIdle(shelf: Shelf, now: () => number, restart: () => void): () => void {
  let used = now();
  const use = () => {
    used = now();
  };
  const look = async () => {
    const idle = now() - used;
    // A clock that was set back starts the time anew.
    if (idle < 0) return use();
    if (idle < MINUTE_MS) return;
    // Read anew: the time may have been changed, or the passcode taken away.
    const lock = readLock(await storedLock(shelf));
    if (lock && idle >= lock.after * MINUTE_MS) restart();
  };
  const events = ['pointerdown', 'keydown', 'input', 'scroll'] as const;
  for (const name of events) window.addEventListener(name, use, { passive: true, capture: true });
  document.addEventListener('visibilitychange', look);
  const timer = setInterval(look, LOOK_EVERY_MS);
  return () => {
    clearInterval(timer);
    document.removeEventListener('visibilitychange', look);
    for (const name of events) window.removeEventListener(name, use, { capture: true });
  };
}

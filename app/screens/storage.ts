/**
 * Whether the browser has promised to keep what the app stores:
 * - `kept`: it has.
 * - `appleHome`, `apple`: it has not, on an Apple phone or tablet, on the home
 *   screen or in Safari, where 7 days without use may be the end of it
 *   (WebKit's storage policy).
 * - `home`, `browser`: it has not, elsewhere; it may go when the phone is full.
 * - `unknown`: the browser does not say.
 */
export type Keeping = 'kept' | 'appleHome' | 'apple' | 'home' | 'browser' | 'unknown';

/** Whether the app was opened from the home screen. */
export const isOnHomeScreen = (): boolean =>
  matchMedia('(display-mode: standalone)').matches || (navigator as { standalone?: boolean }).standalone === true;

/** Every browser on an Apple phone is Safari inside, whatever it is called. */
const isApple = (): boolean => navigator.vendor.startsWith('Apple');

export async function keeping(): Promise<Keeping> {
  const storage = navigator.storage as StorageManager | undefined;
  if (!storage?.persisted) return 'unknown';
  if (await storage.persisted().catch(() => false)) return 'kept';
  if (isApple()) return isOnHomeScreen() ? 'appleHome' : 'apple';
  return isOnHomeScreen() ? 'home' : 'browser';
}

/** Asks the browser to keep what the app stores. Some decide by themselves, some ask the person. @returns whether it does. */
export async function askToKeep(): Promise<boolean> {
  const storage = navigator.storage as StorageManager | undefined;
  return (await storage?.persist?.().catch(() => false)) ?? false;
}

/** How much the app takes on this phone, in bytes; undefined where the browser does not say. */
export async function spaceUsed(): Promise<number | undefined> {
  const estimate = await (navigator.storage as StorageManager | undefined)?.estimate?.().catch(() => undefined);
  return estimate?.usage;
}

let asked = false;

/**
 * Asks once a start, and only where no question pops up: an app on the home
 * screen is wanted, and the browser decides by itself.
 */
export async function keepQuietly(): Promise<void> {
  if (asked || !isOnHomeScreen()) return;
  asked = true;
  if ((await keeping()) !== 'kept') await askToKeep();
}

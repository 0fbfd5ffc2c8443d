import { useEffect } from 'preact/hooks';

/**
 * Keeps the screen on while hands are busy, where the platform can. The lock
 * is lost whenever the app goes out of view, so it is asked for again.
 */
export function useWakeLock(): void {
  useEffect(() => {
    let lock: WakeLockSentinel | undefined;
    let over = false;
    const ask = async () => {
      if (over || document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return;
      // Refused on low battery or by the platform: the steps work without it.
      lock = await navigator.wakeLock.request('screen').catch(() => undefined);
      if (over) void lock?.release();
    };
    void ask();
    const again = () => void ask();
    document.addEventListener('visibilitychange', again);
    return () => {
      over = true;
      document.removeEventListener('visibilitychange', again);
      void lock?.release();
    };
  }, []);
}

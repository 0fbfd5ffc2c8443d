import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';

/** A part of a page that comes after the page itself, at once or after a pause. If it cannot be fetched the page does without it. */
export function Later({ load, pauseMs = 0 }: { load: () => Promise<ComponentType>; pauseMs?: number }) {
  const [Part, setPart] = useState<ComponentType | undefined>();
  useEffect(() => {
    // The page itself goes first.
    const timer = setTimeout(() => {
      load().then(
        (part) => setPart(() => part),
        () => undefined,
      );
    }, pauseMs);
    return () => clearTimeout(timer);
  }, []);
  return Part ? <Part /> : null;
}

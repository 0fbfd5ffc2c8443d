import type { ComponentChildren, ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';

interface Props {
  /** Without it there is nothing to come. */
  load: (() => Promise<ComponentType>) | undefined;
  pauseMs?: number;
  /** What stands there until then, and if it does not come. */
  children?: ComponentChildren;
}

/** A part of a page that comes after the page itself, at once or after a pause. If it cannot be fetched the page does without it. */
export function Later({ load, pauseMs = 0, children }: Props) {
  const [Part, setPart] = useState<ComponentType | undefined>();
  useEffect(() => {
    if (!load) return setPart(undefined);
    // The page itself goes first.
    const timer = setTimeout(() => {
      load().then(
        (part) => setPart(() => part),
        () => undefined,
      );
    }, pauseMs);
    return () => clearTimeout(timer);
  }, [!load]);
  return Part && load ? <Part /> : children;
}

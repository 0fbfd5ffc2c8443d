import { useEffect, useRef } from 'preact/hooks';

/** How long after a page has turned a tap may still belong to the page before. */
const CALM_MS = 400;

/** Tells whether the page named by `key` has stood long enough for a tap to be meant for it. */
export function useCalm(key: string): () => boolean {
  const turned = useRef<{ key: string; at: number }>({ key, at: Number.NEGATIVE_INFINITY });
  useEffect(() => {
    if (turned.current.key !== key) turned.current = { key, at: performance.now() };
  }, [key]);
  return () => performance.now() - turned.current.at >= CALM_MS;
}

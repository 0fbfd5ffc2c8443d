import { useEffect, useRef } from 'preact/hooks';

/** How long after a page has turned a tap may still belong to the page before. */
const CALM_MS = 400;

/** Tells whether the page named by `key` has stood long enough for a tap to be meant for it. */
export function useCalm(key: string): () => boolean {
  const calm = useRef({ key, is: true });
  useEffect(() => {
    if (calm.current.key === key) return;
    const turned = { key, is: false };
    calm.current = turned;
    const timer = setTimeout(() => {
      turned.is = true;
    }, CALM_MS);
    return () => clearTimeout(timer);
  }, [key]);
  return () => calm.current.is;
}

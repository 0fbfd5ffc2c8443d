import { useEffect, useState } from 'preact/hooks';

/** Where the app is: the parts of the address after `#/`. */
export type Route = readonly string[];

export const parseRoute = (hash: string): Route =>
  hash.startsWith('#/')
    ? hash
        .slice(2)
        .split('/')
        .filter((part) => part !== '')
        .map((part) => {
          try {
            return decodeURIComponent(part);
          } catch {
            return '';
          }
        })
    : [];

let steps = 0;

/** Back to where the person came from; to a fixed place where they came from nowhere. */
export function goBack(...otherwise: string[]): void {
  if (steps > 0) history.back();
  else go(...otherwise);
}

/** Goes to a place in the app, as a step that "back" undoes. */
export function go(...parts: string[]): void {
  location.hash = `/${parts.map(encodeURIComponent).join('/')}`;
}

/** Goes to a place in the app in the stead of the present one. */
export function replace(...parts: string[]): void {
  history.replaceState(null, '', `#/${parts.map(encodeURIComponent).join('/')}`);
  window.dispatchEvent(new HashChangeEvent('hashchange'));
}

export function useRoute(): Route {
  const [hash, setHash] = useState(location.hash);
  useEffect(() => {
    const moved = () => {
      steps += 1;
      setHash(location.hash);
    };
    window.addEventListener('hashchange', moved);
    // The address may have moved between the first drawing and this.
    setHash(location.hash);
    return () => window.removeEventListener('hashchange', moved);
  }, []);
  return parseRoute(hash);
}

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
    const moved = () => setHash(location.hash);
    window.addEventListener('hashchange', moved);
    return () => window.removeEventListener('hashchange', moved);
  }, []);
  return parseRoute(hash);
}

import type { Settings } from '../store/book.ts';
import { directionOf, words } from '../words/i18n.ts';

/** Language, direction, colours and size of text on the page itself. */
export function dressPage(settings: Pick<Settings, 'scheme' | 'textSize' | 'readAloud' | 'wideNext'>): void {
  const html = document.documentElement;
  html.lang = words.language;
  html.dir = directionOf(words.language);
  html.dataset.scheme = settings.scheme;
  html.dataset.size = settings.textSize;
  html.dataset.read = settings.readAloud ? 'aloud' : 'silent';
  html.dataset.next = settings.wideNext ? 'wide' : 'usual';
}

import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { t } from '../words/i18n.ts';
import { ReadAloud } from './read-aloud.tsx';

export interface PageProps {
  title: string;
  /** A line above the title, for instance "3 of 9". */
  over?: ComponentChildren;
  /** What the back button does; without it there is none. */
  back?: (() => void) | undefined;
  /** 0 to 1, shown as a thin line under the top bar. */
  progress?: number;
  children?: ComponentChildren;
  /** The main action and what stands with it, at the bottom. */
  foot?: ComponentChildren;
  /** Changes when the page shows something new; the title then takes the focus. */
  focusKey?: string;
  /** The help page itself needs no way to it. */
  noHelp?: boolean;
  class?: string;
}

/**
 * With large text on a small screen the bars would hide the page. Past this
 * share the upper one scrolls away with it; of the lower one, where it alone is
 * as high, only the main action or the number to call stays in sight.
 */
const BARS_MOST = 0.38;

/**
 * One page of the book: a way back, a way to help, one thing to do. The title
 * takes the focus whenever the page turns, so that a screen reader reads on
 * from there and the keyboard starts there.
 */
export function Page(props: PageProps) {
  const title = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    window.scrollTo(0, 0);
    title.current?.focus({ preventScroll: true });
    document.title = `${props.title} – ${t('common:app')}`;
  }, [props.focusKey ?? props.title]);
  const page = useRef<HTMLDivElement>(null);
  const [isMute, setMute] = useState(false);
  useEffect(() => {
    const measure = () => {
      const box = page.current;
      if (!box) return;
      const heightOf = (bar: string): number => box.querySelector<HTMLElement>(`:scope > ${bar}`)?.offsetHeight ?? 0;
      const most = window.innerHeight * BARS_MOST;
      box.classList.remove('foot-low');
      box.classList.toggle('page-low', heightOf('.bar') + heightOf('.foot') > most);
      box.classList.toggle('foot-low', heightOf('.foot') > most);
    };
    measure();
    window.addEventListener('resize', measure);
    return () => window.removeEventListener('resize', measure);
  });
  return (
    <div ref={page} class={`page ${props.class ?? ''}`}>
      <header class="bar">
        {props.back ? (
          <button type="button" class="bar-button" onClick={props.back}>
            <svg class="arrow" viewBox="0 0 24 24" aria-hidden="true">
              <path d="M15 5l-7 7 7 7" />
            </svg>
            <span>{t('common:back')}</span>
          </button>
        ) : (
          <span class="bar-name">{t('common:app')}</span>
        )}
        <ReadAloud page={props.focusKey ?? props.title} find={() => page.current?.querySelector('main') ?? null} onNoVoice={setMute} />
        {!props.noHelp && (
          <a class="bar-button help" href="#/help">
            {t('common:helpNow')}
          </a>
        )}
        {props.progress !== undefined && (
          <div class="progress" aria-hidden="true">
            <div style={{ inlineSize: `${Math.round(props.progress * 100)}%` }} />
          </div>
        )}
      </header>
      <main class="main">
        {props.over && (
          <p class="over" id="over">
            {props.over}
          </p>
        )}
        <h1 ref={title} tabIndex={-1} aria-describedby={props.over ? 'over' : undefined}>
          {props.title}
        </h1>
        {isMute && (
          <p class="hint silent" role="status">
            {t('common:readNoVoice')}
          </p>
        )}
        {props.children}
      </main>
      {props.foot && <footer class="foot">{props.foot}</footer>}
    </div>
  );
}

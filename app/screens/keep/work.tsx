import './keep.css';
import { useRef, useState } from 'preact/hooks';
import { Page } from '../../parts/page.tsx';
import { formatPercent } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';

/** How far a piece of work is told, and how it is stopped. */
export interface Following {
  onProgress: (share: number) => void;
  signal: AbortSignal;
}

export type Outcome<T> = { ok: true; value: T } | { ok: false; why: 'stopped' } | { ok: false; why: 'failed'; error: unknown };

/** A piece of work that takes a while, one at a time. */
export function useWork() {
  const [share, setShare] = useState(0);
  const control = useRef<AbortController | undefined>(undefined);
  const run = async <T,>(work: (following: Following) => Promise<T>): Promise<Outcome<T>> => {
    const own = new AbortController();
    control.current = own;
    setShare(0);
    try {
      return { ok: true, value: await work({ onProgress: setShare, signal: own.signal }) };
    } catch (error) {
      return own.signal.aborted ? { ok: false, why: 'stopped' } : { ok: false, why: 'failed', error };
    }
  };
  return { share, run, stop: () => control.current?.abort() };
}

interface Props {
  title: string;
  /** What happens meanwhile, and what to do. */
  text: string;
  /** 0 to 1. */
  share: number;
  onStop: () => void;
}

/** The page while work is under way. */
export function Working({ title, text, share, onStop }: Props) {
  const percent = Math.floor(share * 100);
  return (
    <Page
      title={title}
      foot={
        <button type="button" class="button button-second" onClick={onStop}>
          {t('keep:stop')}
        </button>
      }
    >
      <p class="lead">{text}</p>
      <div class="work">
        <progress max={100} value={percent} aria-label={title} />
        <p>{formatPercent(percent / 100)}</p>
      </div>
    </Page>
  );
}

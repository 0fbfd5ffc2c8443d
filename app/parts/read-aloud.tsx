import { useEffect, useState } from 'preact/hooks';
import { t } from '../words/i18n.ts';

const load = () => import('../words/read-aloud.ts');

/** Whether pages are read by themselves when they are turned, as the person chose. */
const isAutomatic = (): boolean => document.documentElement.dataset.read === 'aloud';

interface Props {
  /** Named anew when the page shows something new. */
  page: string;
  /** The part of the page that is read. */
  find: () => Element | null;
  /** Told when the phone has no voice for the language, and again when the page is turned. */
  onNoVoice: (isMissing: boolean) => void;
}

/**
 * Reads the page aloud, or stops. The code for it is loaded with the first
 * press, or with the first page where the person wants every page read.
 */
export function ReadAloud({ page, find, onNoVoice }: Props) {
  const [reading, setReading] = useState(false);
  const start = async () => {
    const part = find();
    if (!part) return;
    setReading(true);
    const { readPage } = await load();
    if ((await readPage(part, () => setReading(false))) === 'noVoice') onNoVoice(true);
  };
  const stop = () => void load().then(({ stopReading }) => stopReading());
  useEffect(() => {
    onNoVoice(false);
    if (isAutomatic()) void start();
    // A page that was turned must not go on talking.
    return () => {
      if (globalThis.speechSynthesis?.speaking || globalThis.speechSynthesis?.pending) stop();
    };
  }, [page]);
  if (!('speechSynthesis' in globalThis)) return null;
  return (
    <button
      type="button"
      class="bar-button"
      aria-label={t(reading ? 'common:readStop' : 'common:readAloud')}
      onClick={() => (reading ? stop() : void start())}
    >
      <svg class="speaker" viewBox="0 0 24 24" aria-hidden="true">
        <path d={reading ? 'M7 7h10v10H7z' : 'M4 9v6h4l5 4V5L8 9zM16.5 8.5c2 2 2 5 0 7M19 6c3.4 3.4 3.4 8.6 0 12'} />
      </svg>
    </button>
  );
}

import { useEffect, useState } from 'preact/hooks';
import { Page } from '../../parts/page.tsx';
import { photoBytes } from '../../store/photos.ts';
import { formatDay, formatTime } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import type { PhotoEntry } from './whole-log.ts';
import './hand-over.css';

interface Props {
  over: string;
  photos: readonly PhotoEntry[];
  /** Ids of the photos that are marked. */
  chosen: readonly string[];
  onChange: (chosen: string[]) => void;
  onBack: () => void;
  onDone: () => void;
}

/** The photos of the period to mark one by one; none is marked beforehand. */
export function PhotosStep({ over, photos, chosen, onChange, onBack, onDone }: Props) {
  return (
    <Page
      title={t('handOver:photos')}
      over={over}
      back={onBack}
      focusKey="photos"
      foot={
        <button type="button" class="button button-main" onClick={onDone}>
          {t('common:next')}
        </button>
      }
    >
      <p class="lead">{t('handOver:photosText')}</p>
      <fieldset class="choices photos">
        <legend class="unseen">{t('handOver:photos')}</legend>
        {photos.map((e) => (
          <label class="choice" key={e.first.id}>
            <input
              type="checkbox"
              value={e.now.photo}
              checked={chosen.includes(e.now.photo)}
              onChange={(event) =>
                onChange(event.currentTarget.checked ? [...chosen, e.now.photo] : chosen.filter((id) => id !== e.now.photo))
              }
            />
            <span class="choice-sign" aria-hidden="true" />
            <span class="choice-words">
              <span class="choice-label">{formatDay(e.first.day)}</span>
              <span class="choice-hint">{formatTime(e.first.at, e.first.zone)}</span>
              <WoundHint id={e.now.wound} />
            </span>
            <Picture id={e.now.photo} />
          </label>
        ))}
      </fieldset>
    </Page>
  );
}

/** Which wound it shows, where that needs saying. */
function WoundHint({ id }: { id: string }) {
  const { book } = useBook();
  if (book.plan.wounds.length === 1 && book.plan.wounds[0]?.id === id) return null;
  const wound = book.plan.wounds.find((w) => w.id === id);
  return <span class="choice-hint">{wound ? woundName(wound) : t('log:otherWound')}</span>;
}

/** The photo itself; the words beside it say all that a screen reader needs. */
function Picture({ id }: { id: string }) {
  const { notebook } = useBook();
  const [url, setUrl] = useState<string | undefined>();
  useEffect(() => {
    let made: string | undefined;
    let gone = false;
    photoBytes(notebook.shelf, id).then(
      (blob) => {
        if (!blob || gone) return;
        made = URL.createObjectURL(blob);
        setUrl(made);
      },
      () => undefined,
    );
    return () => {
      gone = true;
      if (made) URL.revokeObjectURL(made);
    };
  }, [notebook, id]);
  return url ? <img class="photo" src={url} alt="" loading="lazy" decoding="async" /> : <span class="photo" />;
}

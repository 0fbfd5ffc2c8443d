import './photo.css';
import { useState } from 'preact/hooks';
import { standing } from '../../care/log/timeline.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { deletePhoto } from '../../store/photos.ts';
import { dropTrace } from '../../store/trace-draft.ts';
import { formatDay, formatTime } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { go, replace } from '../route.ts';
import { unitsOf } from '../units.ts';
import { useEntries } from '../use-entries.ts';
import { fromShares } from './outline.ts';
import { SizeFacts } from './size-facts.tsx';
import { TracedPicture } from './traced-picture.tsx';
import { usePhoto } from './use-photo.ts';

/** One photo, with the edge that was traced on it, and what can be done with it. */
export function PhotoScreen({ id }: { id: string }) {
  const { state, book } = useBook();
  const { entries, older } = useEntries(true);
  const entry = standing(entries, 'photo').find((e) => e.first.id === id);
  const photo = usePhoto(entry?.now.photo);
  const [deleting, setDeleting] = useState(false);
  if (!entry) {
    return (
      <Page title={t('photo:albumTitle')} back={() => go('photos')}>
        <p class="lead">{older === 'reading' ? t('common:wait') : t('photo:gone')}</p>
      </Page>
    );
  }
  const { now, first } = entry;
  if (deleting) return <DeletePhoto record={first.id} bytes={now.photo} onBack={() => setDeleting(false)} />;
  const measured = standing(entries, 'measurement').findLast((e) => e.now.photo === now.photo)?.now;
  const wound = book.plan.wounds.find((w) => w.id === now.wound);
  return (
    <Page
      title={formatDay(first.day)}
      over={[wound && woundName(wound), formatTime(first.at, first.zone)].filter(Boolean).join(' · ')}
      back={() => go('photos')}
      foot={
        <>
          {photo.state === 'here' && (
            <a class="button button-main" href={`#/trace/${encodeURIComponent(id)}`}>
              {t(measured ? 'photo:measureAgain' : 'photo:measure')}
            </a>
          )}
          <button type="button" class="button button-quiet" onClick={() => setDeleting(true)}>
            {t('photo:delete')}
          </button>
        </>
      }
    >
      {photo.state === 'here' && (
        <TracedPicture
          url={photo.url}
          size={now}
          spots={fromShares(measured?.outline ?? [], now)}
          label={t('photo:ofDay', { day: formatDay(first.day) })}
        />
      )}
      {photo.state === 'missing' && <p class="notice">{t('photo:notHereLong')}</p>}
      {measured && <SizeFacts size={measured} unit={unitsOf(state).length} />}
    </Page>
  );
}

/** Deletes the bytes for good; the log keeps only that there was a photo. */
function DeletePhoto({ record, bytes, onBack }: { record: string; bytes: string; onBack: () => void }) {
  const { notebook } = useBook();
  const [failed, setFailed] = useState(false);
  const remove = async () => {
    try {
      await deletePhoto(notebook.shelf, bytes);
      await dropTrace(notebook.shelf, bytes);
      await notebook.append([{ ...notebook.stamp(), kind: 'void', target: record }]);
      replace('photos');
    } catch {
      setFailed(true);
    }
  };
  return (
    <Page
      title={t('photo:deleteTitle')}
      back={onBack}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-grave" onClick={() => void remove()}>
            {t('photo:deleteSure')}
          </button>
          <button type="button" class="button button-second" onClick={onBack}>
            {t('common:cancel')}
          </button>
        </>
      }
    >
      <p class="lead">{t('photo:deleteText')}</p>
    </Page>
  );
}

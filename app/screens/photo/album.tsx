import './photo.css';
import { useState } from 'preact/hooks';
import type { RecordOf } from '../../care/log/records.ts';
import { type Entry, standing } from '../../care/log/timeline.ts';
import { Choices } from '../../parts/choice.tsx';
import { Drawing } from '../../parts/drawing.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { formatDay, formatTime, inARow } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import { useEntries } from '../use-entries.ts';
import { type Crop, sameScale } from './same-scale.ts';
import { usePhoto } from './use-photo.ts';

type PhotoEntry = Entry<RecordOf<'photo'>>;
/** The size that was last traced on a photo. */
type Measured = (photo: string) => RecordOf<'measurement'> | undefined;

/** Rows shown before the person asks for more. */
const ROWS = 12;

/** The photos of a wound: two side by side, through time, and each of them to open. */
export function AlbumScreen() {
  const { book } = useBook();
  const { wounds } = book.plan;
  const { entries } = useEntries(true);
  const all = standing(entries, 'photo');
  const [wound, setWound] = useState(wounds.find((w) => all.some((e) => e.now.wound === w.id))?.id ?? wounds[0]?.id);
  // Photos of a wound that an earlier plan named are shown with the first wound of now, so that none is out of reach.
  const known = (id: string) => wounds.some((w) => w.id === id);
  const photos = all.filter((e) => e.now.wound === wound || (!known(e.now.wound) && wound === wounds[0]?.id));
  const sizes = standing(entries, 'measurement');
  const measured: Measured = (id) => sizes.findLast((e) => e.now.photo === id)?.now;
  return (
    <Page
      title={t('photo:albumTitle')}
      back={() => go('today')}
      foot={
        <a class="button button-main" href="#/take-photo">
          {t('photo:new')}
        </a>
      }
    >
      {wounds.length > 1 && (
        <Choices
          legend={t('photo:whichWound')}
          choices={wounds.map((w) => ({ value: w.id, label: woundName(w) }))}
          chosen={wound === undefined ? [] : [wound]}
          onChange={([id]) => setWound(id ?? wound)}
        />
      )}
      {photos.length === 0 ? (
        <>
          <Drawing name="photoScale" />
          <p class="lead">{t('photo:none')}</p>
          <p>{t('photo:noneNeeded')}</p>
        </>
      ) : (
        <>
          {photos.length > 1 && <SideBySide photos={photos} measured={measured} key={wound} />}
          <PhotoRows photos={photos} key={`rows-${wound}`} />
        </>
      )}
      <p class="hint">{t('photo:stays')}</p>
    </Page>
  );
}

/** The first photo beside any later one. */
function SideBySide({ photos, measured }: { photos: readonly PhotoEntry[]; measured: Measured }) {
  const [at, setAt] = useState(photos.length - 1);
  const first = photos[0] as PhotoEntry;
  const second = photos[Math.min(at, photos.length - 1)] as PhotoEntry;
  const crops = sameScale(first.now, measured(first.now.photo), second.now, measured(second.now.photo));
  const sameDay = first.first.day === second.first.day;
  return (
    <section>
      <h2>{t('photo:sideBySide')}</h2>
      <div class="two-photos">
        <Framed entry={first} crop={crops?.[0]} timed={sameDay} />
        <Framed entry={second} crop={crops?.[1]} timed={sameDay} />
      </div>
      {crops && <p class="hint">{t('photo:sameScale')}</p>}
      {photos.length > 2 && (
        <div class="flick">
          <button type="button" class="button button-second" {...press(() => setAt(at - 1), at <= 1)}>
            {t('photo:earlier')}
          </button>
          <input
            type="range"
            min={1}
            max={photos.length - 1}
            value={at}
            aria-label={t('photo:through')}
            aria-valuetext={formatDay(second.first.day)}
            onInput={(event) => setAt(Number(event.currentTarget.value))}
          />
          <button type="button" class="button button-second" {...press(() => setAt(at + 1), at >= photos.length - 1)}>
            {t('photo:later')}
          </button>
        </div>
      )}
    </section>
  );
}

function Framed({ entry, crop, timed }: { entry: PhotoEntry; crop: Crop | undefined; timed: boolean }) {
  const photo = usePhoto(entry.now.photo);
  const { widthPx, heightPx } = entry.now;
  const day = inARow([formatDay(entry.first.day, 'short'), ...(timed ? [formatTime(entry.first.at, entry.first.zone)] : [])]);
  return (
    <figure>
      {photo.state === 'here' ? (
        <a href={`#/photos/${encodeURIComponent(entry.first.id)}`}>
          <svg
            class="photo"
            viewBox={crop ? `${crop.x} ${crop.y} ${crop.side} ${crop.side}` : `0 0 ${widthPx} ${heightPx}`}
            role="img"
            aria-label={t('photo:ofDay', { day })}
          >
            <image href={photo.url} width={widthPx} height={heightPx} />
          </svg>
        </a>
      ) : (
        <p class="photo photo-missing">{photo.state === 'missing' ? t('photo:notHere') : ''}</p>
      )}
      <figcaption>{day}</figcaption>
    </figure>
  );
}

function PhotoRows({ photos }: { photos: readonly PhotoEntry[] }) {
  const [most, setMost] = useState(ROWS);
  const newest = [...photos].reverse();
  return (
    <section>
      <h2>{t('photo:all', { count: photos.length })}</h2>
      <ul class="rows">
        {newest.slice(0, most).map((entry) => (
          <li key={entry.first.id}>
            <a class="row photo-row" href={`#/photos/${encodeURIComponent(entry.first.id)}`}>
              <Thumb id={entry.now.photo} />
              <span class="row-words">
                <span>{formatDay(entry.first.day)}</span>
                <span class="row-more">{formatTime(entry.first.at, entry.first.zone)}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
      {newest.length > most && (
        <button type="button" class="button button-second" onClick={() => setMost(most + ROWS)}>
          {t('photo:more')}
        </button>
      )}
    </section>
  );
}

function Thumb({ id }: { id: string }) {
  const photo = usePhoto(id);
  return photo.state === 'here' ? <img class="thumb" src={photo.url} alt="" decoding="async" /> : <span class="thumb" />;
}

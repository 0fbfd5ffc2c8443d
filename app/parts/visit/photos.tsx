import type { PhotoOf, PhotosPart } from '../../care/visit/photos-part.ts';
import { formatDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';

/** First and latest photo of a wound side by side. @param address of a photo's bytes; undefined while or where they are not at hand. */
export function Photos({ photos, address }: { photos: PhotosPart; address: (photo: string) => string | undefined }) {
  const shown = [photos.first, photos.latest].filter((p) => p !== undefined);
  return (
    <div class="visit-photos">
      {shown.map((p) => (
        <Photo key={p.photo} photo={p} address={address(p.photo)} />
      ))}
    </div>
  );
}

function Photo({ photo, address }: { photo: PhotoOf; address: string | undefined }) {
  const day = formatDay(photo.day, 'short');
  return (
    <figure>
      {address ? (
        <img src={address} alt={t('visit:photos.of', { day })} width={photo.widthPx} height={photo.heightPx} />
      ) : (
        <p class="visit-no-photo">{t('visit:photos.notHere')}</p>
      )}
      <figcaption>{day}</figcaption>
    </figure>
  );
}

import { useState } from 'preact/hooks';
import { type Entry, standing } from '../care/log/timeline.ts';
import type { WoundPart } from '../care/visit/summary.ts';
import { nameOfWound } from '../parts/visit/visit-words.ts';
import { formatDay, formatTime, inARow } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { Pick } from './fields.tsx';

interface Props {
  entries: readonly Entry[];
  wounds: readonly WoundPart[];
  /** Addresses of the photos that came along, by the id of their bytes. */
  addresses: ReadonlyMap<string, string>;
}

/** Two photos of a wound side by side, first and latest to begin with. */
export function LogPhotos({ entries, wounds, addresses }: Props) {
  const photos = standing(entries, 'photo').filter((e) => addresses.has(e.now.photo));
  const shown = wounds.map((w) => ({ wound: w, own: photos.filter((e) => e.now.wound === w.id) })).filter(({ own }) => own.length > 0);
  if (shown.length === 0) return <p>{t('clinic:log.noPhotos')}</p>;
  return (
    <>
      {shown.map(({ wound, own }) => (
        <section key={wound.id} class="log-photos">
          <h2>{nameOfWound(wound)}</h2>
          <Pair photos={own} addresses={addresses} />
        </section>
      ))}
    </>
  );
}

type Photo = ReturnType<typeof standing<'photo'>>[number];
const SIDES = ['one', 'other'] as const;

function Pair({ photos, addresses }: { photos: readonly Photo[]; addresses: ReadonlyMap<string, string> }) {
  const [chosen, setChosen] = useState<{ one?: string; other?: string }>({});
  const [broken, setBroken] = useState<readonly string[]>([]);
  const idOf = (side: (typeof SIDES)[number]): string => chosen[side] ?? (side === 'one' ? photos[0] : photos.at(-1))?.first.id ?? '';
  const nameOf = ({ first }: Photo): string => inARow([formatDay(first.day, 'short'), formatTime(first.at, first.zone)]);
  return (
    <div class="log-pair">
      {SIDES.map((side) => {
        const id = idOf(side);
        const photo = photos.find((p) => p.first.id === id);
        return (
          <figure key={side}>
            <Pick
              label={t(`clinic:log.photoOf.${side}`)}
              value={id}
              options={photos.map((p) => [p.first.id, nameOf(p)] as const)}
              onChange={(next) => setChosen({ ...chosen, [side]: next })}
            />
            {photo && !broken.includes(photo.now.photo) && (
              <img
                src={addresses.get(photo.now.photo)}
                alt={t('visit:photos.of', { day: formatDay(photo.first.day, 'short') })}
                width={photo.now.widthPx}
                height={photo.now.heightPx}
                onError={() => setBroken([...broken, photo.now.photo])}
              />
            )}
            {photo && broken.includes(photo.now.photo) && <p class="visit-no-photo">{t('clinic:log.photoBroken')}</p>}
          </figure>
        );
      })}
    </div>
  );
}

import { useEffect, useState } from 'preact/hooks';
import type { RecordOf } from '../../care/log/records.ts';
import { photoBytes } from '../../store/photos.ts';
import { formatDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';

/** The picture of a photo record, if its bytes are on this phone. */
export function EntryPhoto({ record }: { record: RecordOf<'photo'> }) {
  const { notebook } = useBook();
  const [picture, setPicture] = useState<string | 'gone' | undefined>();
  useEffect(() => {
    let current = true;
    let address: string | undefined;
    photoBytes(notebook.shelf, record.photo).then(
      (bytes) => {
        if (!current) return;
        address = bytes && URL.createObjectURL(bytes);
        setPicture(address ?? 'gone');
      },
      () => current && setPicture('gone'),
    );
    return () => {
      current = false;
      if (address) URL.revokeObjectURL(address);
    };
  }, [notebook, record.photo]);
  if (picture === undefined) return null;
  if (picture === 'gone') return <p>{t('log:photoGone')}</p>;
  return (
    <img
      class="entry-photo"
      src={picture}
      width={record.widthPx}
      height={record.heightPx}
      alt={t('log:photoAlt', { day: formatDay(record.day, 'short') })}
    />
  );
}
